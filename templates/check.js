// A sale's list of lines, read and added up again: no network, no library, nothing but this file.
// The same stands in Python in salebook/accounts/; tests compare the two on lists by chance.
"use strict";

const salebook = (() => {
  const KEYS = [
    "part", "till", "line", "day", "kind", "piece", "what", "count", "list price", "amount", "gift", "way",
    "group", "to group", "parts", "arrived",
  ];
  const MONEY = ["list price", "amount", "gift", "to group"];
  const WHOLE = ["line", "count", "parts"];
  const PARTS = ["sale", "currency", "line", "fee", "cost", "giver", "share", "paid"];
  const DIGITS = { 1: 0, 10: 1, 100: 2, 1000: 3, 10000: 4 }; // by how many smallest units make one unit
  const CHOICES = {
    line: {
      kind: [
        ...["sale", "order", "deposit", "balance", "refund", "donation", "raffle", "refreshments", "postage"],
        "other",
      ],
      arrived: ["yes", "no", "straight"],
    },
    sale: { kind: ["final", "not final", "interim"] },
    currency: { parts: Object.keys(DIGITS) },
  };
  const WITH_AMOUNT = ["line", "fee", "cost", "giver", "share", "paid"];
  const LETTERS = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"; // base 32 after Douglas Crockford
  const NO_TEXT = /[\x00-\x08\x0b\x0c\x0e-\x1f\x80-\x9f]/; // signs that only stand in files that are no text
  const byUnits = (one, other) => (one < other ? -1 : one > other ? 1 : 0);
  const sum = (amounts) => amounts.reduce((total, amount) => total + amount, 0n);

  // SHA-256 (FIPS 180-4). Its constants are worked out as the standard defines them: the first 32 bits of
  // the fractional parts of roots of primes.

  function wholeRoot(value, power) {
    let low = 0n, high = value;
    while (low < high) {
      const middle = (low + high + 1n) / 2n;
      if (middle ** power <= value) low = middle;
      else high = middle - 1n;
    }
    return low;
  }

  function fraction(prime, power) {
    return Number(BigInt.asIntN(32, wholeRoot(BigInt(prime) << (32n * power), power)));
  }

  const upTo = (end) => [...Array(end).keys()];
  const PRIMES = upTo(312).filter((n) => n > 1 && upTo(n).every((d) => d < 2 || n % d));
  const START = PRIMES.slice(0, 8).map((prime) => fraction(prime, 2n));
  const ROUNDS = PRIMES.map((prime) => fraction(prime, 3n));
  const turned = (word, by) => (word >>> by) | (word << (32 - by));

  function padded(bytes) {
    const whole = new Uint8Array(Math.ceil((bytes.length + 9) / 64) * 64);
    whole.set(bytes);
    whole[bytes.length] = 0x80;
    const words = new DataView(whole.buffer);
    words.setUint32(whole.length - 8, Math.floor(bytes.length / 2 ** 29));
    words.setUint32(whole.length - 4, bytes.length * 8);
    return words;
  }

  function schedule(words, at) {
    const w = new Int32Array(64);
    for (let t = 0; t < 16; t++) w[t] = words.getInt32(at + 4 * t);
    for (let t = 16; t < 64; t++) {
      const low = turned(w[t - 15], 7) ^ turned(w[t - 15], 18) ^ (w[t - 15] >>> 3);
      const high = turned(w[t - 2], 17) ^ turned(w[t - 2], 19) ^ (w[t - 2] >>> 10);
      w[t] = w[t - 16] + low + w[t - 7] + high;
    }
    return w;
  }

  function sha256(bytes) {
    const hash = Int32Array.from(START);
    const words = padded(bytes);
    for (let at = 0; at < words.byteLength; at += 64) {
      const w = schedule(words, at);
      let [a, b, c, d, e, f, g, h] = hash;
      for (let t = 0; t < 64; t++) {
        const one = turned(e, 6) ^ turned(e, 11) ^ turned(e, 25);
        const two = turned(a, 2) ^ turned(a, 13) ^ turned(a, 22);
        const next = (h + one + ((e & f) ^ (~e & g)) + ROUNDS[t] + w[t]) | 0;
        const first = (next + two + ((a & b) ^ (a & c) ^ (b & c))) | 0;
        [h, g, f, e, d, c, b, a] = [g, f, e, (d + next) | 0, c, b, a, first];
      }
      [a, b, c, d, e, f, g, h].forEach((word, n) => (hash[n] += word));
    }
    return [...hash].map((word) => (word >>> 0).toString(16).padStart(8, "0")).join("");
  }

  // The list's one text, and its fingerprint.

  const textsOf = (row) => JSON.stringify(KEYS.map((key) => row[key]));
  const canonical = (rows) => `[${[JSON.stringify(KEYS), ...rows.map(textsOf).sort(byUnits)].join(",")}]`;
  const inGroups = (letters) => letters.match(/.{4}/g).join("-");

  function fingerprint(rows) {
    const hash = sha256(new TextEncoder().encode(canonical(rows)));
    const bits = BigInt(`0x${hash.slice(0, 25)}`); // 25 × 4 = 100
    return inGroups(upTo(20).map((n) => LETTERS[Number((bits >> BigInt(95 - 5 * n)) & 31n)]).join(""));
  }

  // A fingerprint as it is printed, of what somebody typed; null where it cannot be one.
  function typedFingerprint(text) {
    const letters = text.toUpperCase().replace(/[ -]/g, "").replace(/[IL]/g, "1").replace(/O/g, "0");
    return /^[0-9A-HJKMNP-TV-Z]{20}$/.test(letters) ? inGroups(letters) : null;
  }

  const lettersThatDiffer = (one, other) => [...one].filter((letter, n) => letter !== other[n]).length;

  // From the file to rows of texts.

  // Text of a file's bytes; null where they are none.
  function decoded(bytes) {
    const wide = { "255,254": "utf-16le", "254,255": "utf-16be" }[bytes.slice(0, 2).join()];
    // What is no Unicode is in the usual code page of older programs.
    for (const kind of wide ? [wide] : ["utf-8", "windows-1252"]) {
      try {
        const text = new TextDecoder(kind, { fatal: true }).decode(bytes);
        return kind === "windows-1252" && NO_TEXT.test(text) ? null : text;
      } catch {
        continue;
      }
    }
    return null;
  }

  // What stands between quotation marks from a place on, and where it ends.
  function quoted(text, at) {
    let cell = "";
    for (;;) {
      const end = text.indexOf('"', at);
      if (end < 0) return [cell + text.slice(at), text.length];
      cell += text.slice(at, end);
      if (text[end + 1] !== '"') return [cell, end + 1];
      cell += '"';
      at = end + 2;
    }
  }

  function cellsOf(text) {
    const [first] = text.split(/[\r\n]/, 1);
    const count = (sign) => first.split(sign).length;
    const separator = [",", ";", "\t"].reduce((most, sign) => (count(sign) > count(most) ? sign : most));
    const plain = new RegExp(`[^${separator}\r\n]*`, "y");
    const rows = [[]];
    for (let at = 0; at < text.length; at++) {
      let cell = "";
      if (text[at] === '"') [cell, at] = quoted(text, at + 1);
      plain.lastIndex = at;
      rows[rows.length - 1].push(cell + plain.exec(text)[0]);
      at = plain.lastIndex;
      if (text[at] === separator) continue;
      if (text.startsWith("\r\n", at)) at++;
      rows.push([]);
    }
    return rows;
  }

  // One way to write each value, also when a spreadsheet program has rewritten it.

  function trimmed(text) {
    let start = 0, end = text.length;
    while (start < end && " \t\r\n".includes(text[start])) start++;
    while (end > start && " \t\r\n".includes(text[end - 1])) end--;
    return text.slice(start, end);
  }

  const tidy = (text) => trimmed(text.normalize("NFC")).replace(/^'+(?=[=+\-@＝＋－＠])/, "");

  function written(units, digits) {
    const figures = (units < 0n ? -units : units).toString().padStart(digits + 1, "0");
    const at = figures.length - digits;
    return (units < 0n ? "-" : "") + figures.slice(0, at) + (digits ? "." : "") + figures.slice(at);
  }

  function ungrouped(whole, rest) {
    const [first, ...groups] = whole.split(/[.,]/);
    const sound = !groups.length || (/^.{1,3}$/.test(first) && groups.every((group) => group.length === 3));
    return sound ? [[first, ...groups].join(""), rest] : null;
  }

  // An amount taken apart at its decimal sign; null where signs stand in no such order.
  function wholeAndRest(body, digits) {
    const signs = body.match(/[.,]/g) ?? [];
    const decimal = signs[signs.length - 1];
    if (/[.,]$/.test(body)) return null;
    const alike = signs.every((sign) => sign === decimal);
    if (alike && signs.length !== 1) return ungrouped(body, "");
    const at = body.lastIndexOf(decimal);
    const before = body.slice(0, at), rest = body.slice(at + 1);
    if (signs.length === 1) {
      const groups = rest.length === 3 && digits !== 3 && !["", "0"].includes(before);
      return groups ? ungrouped(body, "") : [before, rest];
    }
    return signs.filter((sign) => sign === decimal).length > 1 ? null : ungrouped(before, rest);
  }

  // An amount in smallest units; null where it is finer, but for what programs leave of -3.63 in binary.
  function unitsRead(whole, rest, digits) {
    if (whole.replace(/^0+/, "").length > 15) return null;
    const units = BigInt(whole + rest.slice(0, digits).padEnd(digits, "0"));
    const finer = rest.slice(digits).replace(/0+$/, "");
    if (!finer || finer.startsWith("000000")) return units;
    return finer.startsWith("999999") ? units + 1n : null;
  }

  // An amount with a point and so many digits; null where it cannot be read as one.
  function amountText(found, digits) {
    const joined = found.replace(/([0-9])[ \u00a0\u202f\u2009'’](?=[0-9])/g, "$1").replace(/−/g, "-");
    const [, sign, body] = /^(-?)([0-9][0-9.,]*|[.,][0-9]+)$/.exec(joined) ?? [];
    const parts = body ? wholeAndRest(body, digits) : null;
    const units = parts ? unitsRead(...parts, digits) : null;
    return units === null ? null : written(sign ? -units : units, digits);
  }

  const wholeText = (found) => amountText(found, 0);

  const YEAR_FIRST = /^([0-9]{4})[-/.]([0-9]{1,2})[-/.]([0-9]{1,2})$/;
  const YEAR_LAST = /^([0-9]{1,2})[-/.]([0-9]{1,2})[-/.]([0-9]{4}|[0-9]{2})$/;

  function isDay(year, month, day) {
    const leap = year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0);
    const lengths = [31, leap ? 29 : 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];
    return year > 0 && day > 0 && day <= (lengths[month - 1] ?? 0);
  }

  // A day as year-month-day; null where it is none.
  function dayText(found, dayFirst) {
    let [, year, month, day] = YEAR_FIRST.exec(found) ?? [];
    if (!year) [, day, month, year] = YEAR_LAST.exec(found) ?? [];
    if (!year) return null;
    if (!dayFirst && YEAR_LAST.test(found)) [month, day] = [day, month];
    if (year.length === 2) year = `20${year}`;
    if (!isDay(+year, +month, +day)) return null;
    return [year, month.padStart(2, "0"), day.padStart(2, "0")].join("-");
  }

  // Whether days stand before months in dates that end with the year; null where that cannot be told.
  function isDayFirst(days) {
    const found = days.map((day) => YEAR_LAST.exec(day)).filter(Boolean);
    if (found.some((match) => match[1] > 12)) return true;
    return !found.length || found.some((match) => match[2] > 12) ? false : null;
  }

  // Reading: tolerant of what a spreadsheet program makes of a list when it saves it.

  function readValue(key, text, digits, dayFirst) {
    if (MONEY.includes(key)) return [amountText(text, digits), "amount"];
    if (WHOLE.includes(key)) return [wholeText(text), "whole number"];
    if (key === "day") return [dayText(text, dayFirst), "day"];
    return [text, ""];
  }

  function readRow({ number, row }, digits, dayFirst, faults) {
    const read = KEYS.map((key) => {
      const [value, expected] = row[key] ? readValue(key, row[key], digits, dayFirst) : [""];
      if (value === null) faults.push({ row: number, key, found: row[key], expected });
      return [key, value ?? row[key]];
    });
    return { number, row: Object.fromEntries(read) };
  }

  // The rows of tidy texts in a file, with their numbers; null where it is no list of lines.
  function typedRows(text) {
    const [heading, ...found] = cellsOf(text).map((cells) => cells.map(tidy));
    if (JSON.stringify(heading) !== JSON.stringify(KEYS)) return null;
    const row = (cells) => Object.fromEntries(KEYS.map((key, at) => [key, cells[at] ?? ""]));
    const more = (cells) => cells.slice(KEYS.length);
    const rows = found.map((cells, n) => ({ number: n + 2, row: row(cells), more: more(cells) }));
    return rows.filter(({ row, more }) => [...Object.values(row), ...more].some(Boolean));
  }

  function readList(text, dayFirst) {
    const typed = typedRows(text);
    if (!typed) return null;
    const left = typed.map(({ number, more }) => [number, more.filter(Boolean).join(" ")]);
    const faults = left.filter(([, found]) => found)
      .map(([row, found]) => ({ row, key: "", found, expected: "nothing" }));
    const units = typed.filter(({ row }) => row.part === "currency").map(({ row }) => wholeText(row.parts));
    const digits = (units.length === 1 ? DIGITS[units[0]] : null) ?? 2;
    const told = isDayFirst(typed.map(({ row }) => row.day));
    const rows = typed.map((each) => readRow(each, digits, told ?? dayFirst, faults));
    return { rows, faults, digits, told };
  }

  // Sums in whole smallest units; an amount that cannot be read counts nothing.

  function unitsOf(text, digits) {
    return text && amountText(text, digits) === text ? BigInt(text.replace(".", "")) : 0n;
  }

  const wholeOf = (text) => (/^[0-9]+$/.test(text) && wholeText(text) === text ? BigInt(text) : 0n);

  function grouped(rows, key) {
    const found = new Map();
    for (const row of rows) {
      if (!found.has(row[key])) found.set(row[key], []);
      found.get(row[key]).push(row);
    }
    return new Map([...found].sort(([one], [other]) => byUnits(one, other)));
  }

  // Shares by largest remainder; of equal remainders the group listed first comes first.
  function sharesOf(units, parts) {
    const all = sum(parts);
    if (all === 0n) return parts;
    const sure = parts.map((part) => (units * part) / all);
    const rest = parts.map((part) => (units * part) % all);
    const line = [...parts.keys()].sort((one, other) => byUnits(rest[other], rest[one]) || one - other);
    const left = units - sum(sure);
    return sure.map((share, n) => share + (BigInt(line.indexOf(n)) < left ? 1n : 0n));
  }

  // A list's rows, ready to be added up.
  function ledger(rows, digits) {
    const of = (row, key) => unitsOf(row[key], digits);
    const moved = (row) => of(row, "amount") + of(row, "gift");
    const part = (name) => rows.filter((row) => row.part === name);
    const lines = part("line");
    return {
      part, lines,
      arrived: (how) => lines.filter((line) => line.arrived === how),
      total: (some, key) => sum(some.map(key ? (row) => of(row, key) : moved)),
      money: (units) => written(units, digits),
    };
  }

  function groupSums({ part, arrived, total }, pool) {
    const place = (one, other) => (
      byUnits(wholeOf(one.line), wholeOf(other.line)) || byUnits(one.group, other.group)
    );
    const stated = part("share").sort(place);
    const shares = sharesOf(pool > 0n ? pool : 0n, stated.map(({ parts }) => wholeOf(parts)));
    const by = (rows) => (group) => rows.get(group) ?? [];
    const [yes, straight, given] = [arrived("yes"), arrived("straight"), part("paid")]
      .map((rows) => by(grouped(rows, "group")));
    return stated.map((row, n) => {
      const { group } = row, share = shares[n];
      const named = total(yes(group), "to group"), paid = total(given(group), "amount");
      const sums = {
        named, share, stated: -total([row], "amount"), total: named + share,
        straight: total(straight(group)), paid, to_pay: named + share - paid,
      };
      return { group, parts: Number(wholeOf(row.parts)), sums };
    });
  }

  function sumsOf({ part, arrived, total }) {
    const taken = arrived("yes");
    const by = (key) => [...grouped(taken, key)].map(([name, rows]) => [name, total(rows)]);
    const takings = { total: total(taken), by_kind: by("kind"), by_way: by("way"), by_day: by("day") };
    const [fees, costs, to_givers] = ["fee", "cost", "giver"].map((name) => -total(part(name), "amount"));
    const named = total(taken, "to group");
    return { takings, named, fees, costs, to_givers, pool: takings.total - named - fees - costs - to_givers };
  }

  // A line without what may become otherwise after the evening although the line stays as it was signed.
  function asSigned(line) {
    const arrived = line.arrived === "no" ? "yes" : line.arrived;
    return { ...line, what: "", "list price": "", arrived };
  }

  function daySum(day, till, own, total) {
    const money = total(own.filter((line) => line.arrived === "yes"));
    const signed = fingerprint(own.map(asSigned));
    return { day, till, lines: own.length, money, fingerprint: signed };
  }

  // Day by day; where a day has several tills, also till by till.
  function daysOf({ lines, total }) {
    return [...grouped(lines, "day")].flatMap(([day, own]) => {
      const tills = [...grouped(own, "till")].map(([till, some]) => daySum(day, till, some, total));
      return [daySum(day, "", own, total), ...(tills.length > 1 ? tills : [])];
    });
  }

  // What is wrong with rows, beside values that cannot be read.

  function* rowFaults({ number, row }) {
    const fault = (key, expected) => ({ row: number, key, found: row[key], expected });
    if (!PARTS.includes(row.part)) yield fault("part", "part");
    for (const [key, choices] of Object.entries(CHOICES[row.part] ?? {})) {
      if (!choices.includes(row[key])) yield fault(key, key);
    }
    if (WITH_AMOUNT.includes(row.part) && !row.amount) yield fault("amount", "amount");
    if (row.part === "share" && /^(0*|-[0-9]+)$/.test(row.parts)) yield fault("parts", "parts");
  }

  function* notOnce(rows) {
    for (const part of ["currency", "sale"]) {
      const many = rows.filter(({ row }) => row.part === part).length;
      if (many !== 1) yield { row: 0, key: "part", found: String(many), expected: part };
    }
  }

  // Money for a group that has no share, or several: it would be counted nowhere, or twice.
  function* groupFaults(rows) {
    const shares = rows.filter(({ row }) => row.part === "share").map(({ row }) => row.group);
    const isForAGroup = (row) => ["share", "paid"].includes(row.part)
      || (row.part === "line" && (row["to group"] || row.arrived === "straight"));
    for (const { number, row } of rows) {
      const many = shares.filter((group) => group === row.group).length;
      if (isForAGroup(row) && many !== 1) {
        yield { row: number, key: "group", found: row.group, expected: "group" };
      }
    }
  }

  function faultsOf({ rows, faults }) {
    const place = ({ key }) => (key ? KEYS.indexOf(key) : KEYS.length);
    const ofRows = rows.flatMap((row) => [...rowFaults(row)]);
    const found = [...faults, ...notOnce(rows), ...groupFaults(rows), ...ofRows];
    return found.sort((one, other) => one.row - other.row || place(one) - place(other));
  }

  // The answer: the same values as `salebook verify --json`.

  // A list with its fingerprints, compared with one that was typed.
  function compared(listed, asked) {
    const rows = listed.rows.map(({ row }) => row), book = ledger(rows, listed.digits), days = daysOf(book);
    const own = fingerprint(rows);
    const same = asked && asked === own;
    const like = asked && days.find((day) => day.fingerprint === asked);
    const day_same = like ? { day: like.day, till: like.till } : null;
    return { listed, rows, book, days, own, same, day_same, found: same || day_same !== null };
  }

  // Days that can be read two ways are read in the way that has the letter's fingerprint.
  function comparedBothWays(text, asked) {
    const listed = readList(text, true);
    if (!listed) return null;
    const first = compared(listed, asked);
    if (listed.told !== null || !asked || first.found) return first;
    const other = compared(readList(text, false), asked);
    return other.found ? other : first;
  }

  function once(rows, part) {
    const found = rows.filter((row) => row.part === part);
    return found.length === 1 ? found[0] : { kind: "", what: "" };
  }

  function answer({ listed, rows, book, days, own, same, day_same, found }, asked) {
    const said = (sums) => Object.fromEntries([...sums].map(([name, units]) => [name, book.money(units)]));
    const { takings, ...off } = sumsOf(book);
    const { total, ...by } = takings;
    const lists = Object.entries(by).map(([name, sums]) => [name, said(sums)]);
    const shares = groupSums(book, off.pool)
      .map(({ sums, ...group }) => ({ ...group, ...said(Object.entries(sums)) }));
    const differences = shares.filter(({ stated, share }) => stated !== share);
    return {
      currency: once(rows, "currency").kind,
      kind: once(rows, "sale").kind,
      what: once(rows, "sale").what,
      fingerprint: own,
      asked,
      same,
      letters_differ: (asked && lettersThatDiffer(asked, own)) || null,
      day_same,
      takings: { total: book.money(total), ...Object.fromEntries(lists) },
      ...said(Object.entries(off)),
      shares,
      waiting: book.money(book.total(book.arrived("no"))),
      days: days.map((day) => ({ ...day, money: book.money(day.money) })),
      faults: faultsOf(listed),
      differences: differences.map(({ group, stated, share }) => ({ group, stated, share })),
      remarks: listed.told === null && !found ? ["day first"] : [],
    };
  }

  // What is in a list, and whether it has the fingerprint that was typed; null where it is no list.
  function check(text, typed = "") {
    const asked = typedFingerprint(typed);
    const found = comparedBothWays(text, asked);
    return found && answer(found, asked);
  }

  return { check, decoded, typedFingerprint, sha256, canonical };
})();
