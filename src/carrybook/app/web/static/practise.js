// The look comes some seconds after the call: an own estimate first.
"use strict";

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
  addNudges(input);
}
const result = document.getElementById("result");
if (result) waitForTheLook(result);
