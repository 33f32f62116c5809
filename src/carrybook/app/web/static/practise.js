// The look comes some seconds after the call: an own estimate first. Big steps for one thumb.
"use strict";

function nudges(input) {
  const row = document.createElement("div");
  row.className = "nudges";
  for (const by of [-1, 1]) {
    const button = document.createElement("button");
    button.type = "button";
    button.textContent = by > 0 ? "+1" : "−1";
    button.setAttribute("aria-label", `${button.textContent} ${input.labels[0].textContent}`);
    button.addEventListener("click", () => {
      const start = parseFloat(input.value.replace(",", ".").replace("−", "-"));
      const from = Number.isNaN(start) ? Number(input.placeholder) || 0 : start;
      input.value = String(Math.round((from + by) * 10) / 10);
    });
    row.append(button);
  }
  input.closest(".field").append(row);
}

function waitForTheLook(form) {
  const measured = document.getElementById("measured");
  const countdown = document.getElementById("countdown");
  let left = Number(form.dataset.reveal);
  if (measured.querySelector(".problem:not([hidden])")) return;
  const tick = () => {
    measured.hidden = left > 0;
    countdown.textContent = left > 0 ? `Do not look yet: ${left}` : "Now look.";
    if (left > 0) { left -= 1; setTimeout(tick, 1000); } else form.elements.carry.focus();
  };
  tick();
}

for (const input of document.querySelectorAll("#practise-part .stepper input")) {
  if (input.name !== "side") input.placeholder = input.form.dataset.start;
  nudges(input);
}
const result = document.getElementById("result");
if (result) waitForTheLook(result);
