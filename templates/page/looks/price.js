"use strict";
// Puts a slider beside each number and asks, while it moves, what that would bring.
const form = document.getElementById("prices");
const faults = document.getElementById("faults");
let isAsking = false;
let isStale = false;

const show = (answer) => {
  faults.replaceChildren();
  for (const place of form.querySelectorAll("[data-shows]")) place.textContent = answer[place.dataset.shows];
  for (const place of form.querySelectorAll("[data-group]")) {
    place.textContent = answer.shares[place.dataset.group][1];
  }
};

const complain = (lines) => {
  faults.replaceChildren(...lines.map((line) => {
    const said = document.createElement("p");
    said.textContent = line;
    return said;
  }));
};

// One question at a time: what moved meanwhile is asked once the answer is there.
const ask = async () => {
  if (isAsking) {
    isStale = true;
    return;
  }
  isAsking = true;
  try {
    const asked = new URLSearchParams(new FormData(form));
    const answer = await fetch(`${form.dataset.now}?${asked}`);
    const said = await answer.json();
    if (answer.ok) show(said);
    else complain(said.faults);
  } catch (trouble) {
    complain([String(trouble)]);
  }
  isAsking = false;
  if (isStale) {
    isStale = false;
    ask();
  }
};

for (const number of form.querySelectorAll(".knob input")) {
  const slider = document.createElement("input");
  Object.assign(slider, { type: "range", min: number.dataset.step, max: number.dataset.most });
  slider.step = number.dataset.step;
  slider.value = number.value;
  slider.setAttribute("aria-label", number.dataset.name);
  slider.addEventListener("input", () => { number.value = slider.value; ask(); });
  number.addEventListener("input", () => { slider.value = number.value; ask(); });
  number.parentElement.append(slider);
}
