// Shows what check.js finds. What comes from a file is only ever put in as text.
"use strict";

(() => {
  const MOST_BYTES = 20000000;
  const MOST_FAULTS = 200;
  const at = (id) => document.getElementById(id);
  const says = JSON.parse(at("says").textContent);
  const kinds = new Map(says.kinds);
  const language = at("says").dataset.language;

  // Words.

  function element(name, content, attributes = {}) {
    const made = document.createElement(name);
    made.append(...[content].flat());
    for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
    return made;
  }

  // A text of somebody's, which turns no writing around it.
  const name = (text) => element("bdi", text);

  // A sentence with its {names} filled in.
  function said(sentence, values = {}) {
    return sentence.split(/\{(\w+)\}/).map((part, n) => (n % 2 ? name(String(values[part] ?? "")) : part));
  }

  const paragraph = (sentence, values) => element("p", said(sentence, values));

  // A sum as its letter writes it; one with more digits than a number holds stays as it is.
  function figure(text) {
    const digits = (text.split(".")[1] ?? "").length;
    if (text.length > 16) return text;
    const places = { minimumFractionDigits: digits, maximumFractionDigits: digits, numberingSystem: "latn" };
    return new Intl.NumberFormat(language, places).format(Number(text));
  }

  function dayInFull(text) {
    const day = new Date(`${text}T00:00:00Z`);
    const full = { weekday: "long", day: "numeric", month: "long", year: "numeric", timeZone: "UTC" };
    return isNaN(day) ? text || says.not_known : new Intl.DateTimeFormat(language, full).format(day);
  }

  // Tables.

  const right = { class: "figure" };

  function row([what, ...cells], kind = "") {
    const figures = cells.map((cell) => element("td", cell, right));
    return element("tr", [element("th", what, { scope: "row" }), ...figures], { class: kind });
  }

  function table([what, ...figures], rows) {
    const heads = figures.map((head) => element("th", head, { scope: "col", ...right }));
    const head = element("tr", [element("th", what, { scope: "col" }), ...heads]);
    return element("table", [element("thead", head), element("tbody", rows)]);
  }

  const section = (heading, content) => element("section", [element("h2", heading), content].flat());
  const amounts = (sums, label) => Object.entries(sums).map(([key, sum]) => row([label(key), figure(sum)]));
  const isBelow = (sum) => sum.startsWith("-");
  const isMoney = (text) => /[1-9]/.test(text);

  // Kinds as the statement has them, those that nobody knows last.
  function inOrder(sums) {
    const places = [...kinds.keys()];
    const place = ([kind]) => (kinds.has(kind) ? places.indexOf(kind) : places.length);
    return Object.fromEntries(Object.entries(sums).sort((one, other) => place(one) - place(other)));
  }

  function cameIn({ takings, currency, waiting }) {
    const total = () => row([says.takings, figure(takings.total)], "sum");
    const kind = (key) => kinds.get(key) ?? name(key || says.not_known);
    const way = (key) => name(key || says.not_known);
    const lists = [
      table([says.by_kind, currency], [...amounts(inOrder(takings.by_kind), kind), total()]),
      table([says.by_way, currency], [...amounts(takings.by_way, way), total()]),
      table([says.by_day, currency], [...amounts(takings.by_day, dayInFull), total()]),
    ];
    const sum = `${figure(waiting)} ${currency}`;
    const later = isMoney(waiting) ? [paragraph(says.waiting, { sum })] : [];
    const beside = element("div", lists, { class: "beside" });
    return section(says.came_in, [beside, paragraph(says.gifts), ...later]);
  }

  function comesOff(found) {
    const parts = ["named", "fees", "costs", "to_givers"].filter((part) => isMoney(found[part]));
    const rows = [
      row([says.takings, figure(found.takings.total)]),
      ...parts.map((part) => row([says[part], figure(negative(found[part]))])),
      isBelow(found.pool)
        ? row([says.missing, figure(negative(found.pool))], "sum double")
        : row([says.pool, figure(found.pool)], "sum double"),
    ];
    return section(says.comes_off, table([says.from_takings, found.currency], rows));
  }

  const negative = (sum) => (sum.startsWith("-") ? sum.slice(1) : `-${sum}`);

  function shareOf(group, all, currency) {
    const part = element("span", said(says.parts, { parts: group.parts, all }), { class: "note" });
    const line = (label, sum, kind) => row([label, figure(sum)], kind);
    const rows = [
      row([[says.share, " ", part], figure(group.share)]),
      ...(isMoney(group.named) ? [line(says.by_name, group.named)] : []),
      line(says.in_all, group.total, "sum"),
      line(says.paid, group.paid),
      isBelow(group.to_pay)
        ? line(says.too_much, negative(group.to_pay), "sum double")
        : line(says.to_pay, group.to_pay, "sum double"),
      ...(isMoney(group.straight) ? [line(says.straight, group.straight)] : []),
    ];
    return table([name(group.group), currency], rows);
  }

  function shared({ shares, currency }) {
    const all = shares.reduce((sum, { parts }) => sum + parts, 0);
    const groups = shares.map((group) => shareOf(group, all, currency));
    return section(says.shared, element("div", groups, { class: "beside" }));
  }

  const dayAndTill = ({ day, till }) => (
    till ? said(says.day_and_till, { day: dayInFull(day), till }) : [dayInFull(day)]
  );

  function days({ days: each, currency }) {
    const rows = each.map((day) => row([
      [...dayAndTill(day), " ", element("span", day.fingerprint, { class: "told fingerprint" })],
      String(day.lines), figure(day.money),
    ]));
    return section(says.days, table([says.day, says.lines, currency], rows));
  }

  // What a person has to look at.

  function faultSaid(fault, currency) {
    const values = { ...fault, currency };
    const empty = fault.found === "" && fault.row > 0;
    return element("li", said(says.expected[empty ? "empty" : fault.expected], values));
  }

  function lookAt({ faults, differences, remarks, kind, currency }) {
    const states = { "not final": [says.not_final], interim: [says.interim] }[kind] ?? [];
    const notes = [...states, ...remarks.map(() => says.day_first)].map((text) => element("p", text));
    const shown = faults.slice(0, MOST_FAULTS).map((fault) => faultSaid(fault, currency));
    const more = faults.length - shown.length;
    if (more) shown.push(element("li", said(says.more, { count: more })));
    const others = differences.map(({ group, stated, share }) =>
      element("li", said(says.difference, { group, stated: figure(stated), share: figure(share) })));
    return [
      ...(notes.length ? [element("div", notes, { class: "status" })] : []),
      ...(shown.length ? [section(says.faults, element("ul", shown))] : []),
      ...(others.length ? [section(says.differences, element("ul", others))] : []),
    ];
  }

  // The answer in large words.

  function sentence({ asked, same, day_same, letters_differ }) {
    if (same) return ["same", says.same];
    if (day_same) return ["same", day_same.till ? says.till_same : says.day_same];
    return ["other", says.letters_differ[letters_differ] ?? says.other];
  }

  function verdict(found, typed) {
    const count = typed.replace(/[\s-]/g, "").length;
    const [kind, text] = found.asked ? sentence(found) : ["", count ? says.not_whole : says.no_fingerprint];
    const { day = "", till = "" } = found.day_same ?? {};
    const values = { day: dayInFull(day), till, count: found.asked ? found.letters_differ : count };
    const letters = element("span", found.fingerprint, { class: "fingerprint" });
    const sound = !found.faults.length && !found.differences.length;
    return [kind, [
      paragraph(text, values),
      element("p", [says.its_fingerprint, " ", letters]),
      ...(sound ? [paragraph(says.adds_up)] : []),
    ]];
  }

  // The list that was read, the fingerprint that was typed, and what follows from the two.

  let list = null;
  let found = null;
  let latest = null;

  const results = (answer) => [
    ...lookAt(answer),
    ...[cameIn, comesOff, shared, days].map((part) => part(answer)),
  ];

  function show() {
    const typed = at("fingerprint").value;
    // A long list takes a while: it is added up again only once another fingerprint is whole.
    const known = found && salebook.typedFingerprint(typed) === found.asked;
    if (list !== null && !known) found = salebook.check(list, typed);
    const [kind, lines] = found ? verdict(found, typed) : ["", []];
    at("verdict").className = `verdict ${kind}`;
    at("verdict").replaceChildren(...lines);
    at("results").replaceChildren(...(found ? results(found) : []));
  }

  function fileSays(sentence, file) {
    at("file-said").replaceChildren(...said(sentence, { file: file?.name, what: found?.what }));
  }

  function take(text) {
    [list, found] = [text, null];
    show();
    if (found) return found.what ? says.read_of : says.read;
    return text === null ? says.no_text : says.no_list;
  }

  async function read(file) {
    latest = file;
    take(null);
    if (file.size > MOST_BYTES) return fileSays(says.too_large, file);
    fileSays(says.reading, file);
    const bytes = await file.arrayBuffer().catch(() => null);
    if (file !== latest) return; // another was dropped meanwhile
    fileSays(bytes ? take(salebook.decoded(new Uint8Array(bytes))) : says.unreadable, file);
  }

  function dropped(event) {
    event.preventDefault();
    over(false);
    const { files } = event.dataTransfer;
    if (files.length > 1) fileSays(says.several);
    else if (files.length) read(files[0]);
  }

  const over = (is) => at("drop").classList.toggle("over", is);

  at("drop").addEventListener("click", () => at("file").click());
  at("file").addEventListener("change", () => {
    if (at("file").files.length) read(at("file").files[0]);
    at("file").value = ""; // the same file may be chosen again
  });
  at("fingerprint").addEventListener("input", show);
  // A file let go beside the field would be opened in place of this page.
  document.addEventListener("dragover", (event) => { event.preventDefault(); over(true); });
  document.addEventListener("dragleave", (event) => { if (!event.relatedTarget) over(false); });
  document.addEventListener("drop", dropped);
  at("without").hidden = true;
  at("fields").hidden = false;
})();
