"use strict";
// Says each answer back beside its field a moment after something was typed.
const form = document.getElementById("questions");
const PAUSE_MS = 300;
let timer = 0;
let latest = 0;

const show = (fields) => {
  for (const [key, field] of Object.entries(fields)) {
    const about = document.getElementById(`about-${key}`);
    const said = document.getElementById(`said-${key}`);
    about.hidden = !field.concerns;
    if (field.asks) about.querySelector("[data-asks]").textContent = field.asks;
    const text = field.trouble || field.says;
    if (said.textContent !== text) said.textContent = text;
    said.classList.toggle("urgent", Boolean(field.trouble));
    document.getElementById(key).toggleAttribute("aria-invalid", Boolean(field.trouble));
  }
};

const ask = async () => {
  latest += 1;
  const mine = latest;
  try {
    const answer = await fetch(`${form.dataset.understood}?${new URLSearchParams(new FormData(form))}`);
    if (answer.ok && mine === latest) show(await answer.json());
  } catch {
    // The button says all that again.
  }
};

form.addEventListener("input", () => {
  clearTimeout(timer);
  timer = setTimeout(ask, PAUSE_MS);
});
