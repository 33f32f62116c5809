// Big steps of a number for one thumb; a unit that was typed stays.
"use strict";

function nudge(input, by) {
  const found = input.value.trim().match(/^([-+−]?\d+(?:[.,]\d+)?)(.*)$/);
  const start = found ? Number(found[1].replace(",", ".").replace("−", "-")) : Number(input.placeholder) || 0;
  const unit = found ? found[2] : "";
  const value = Math.round((start + by) * 10) / 10;
  input.value = `${value}${unit}`;
  input.dispatchEvent(new Event("input", { bubbles: true }));
}

function addNudges(input) {
  const row = document.createElement("div");
  row.className = "nudges";
  const label = input.labels[0].textContent;
  for (const by of [-1, 1]) {
    const button = document.createElement("button");
    button.type = "button";
    button.textContent = by > 0 ? "+1" : "−1";
    button.setAttribute("aria-label", `${button.textContent} ${label}`);
    button.addEventListener("click", () => nudge(input, by));
    row.append(button);
  }
  input.closest(".field").append(row);
}
