// A shot recorded without a server waits here; the form is ready for the next one.
"use strict";

const TO = "/after/waiting";
const STAYS = ["moisture", "wind", "wind_from", "firmness", "temperature"]; // for the next shot
const LAST_HOLE = 18;
const ours = (form) => [...form.elements].filter((each) => each.name && each.type !== "hidden");
const waits = () => {
  const last = [...queue.balls(TO).keys()].pop();
  return queue.waiting(TO).find((step) => step.of === last && step.said.what !== "undo");
};

// The form holds a shot that is said already, or what is usual.
function fill(form, shot) {
  for (const each of ours(form)) {
    const text = window.carrybookDrafts.shown(each, shot[each.name] || "");
    if (each.type === "radio") each.checked = shot[each.name] ? each.value === shot[each.name] : "usual" in each.dataset;
    else each.value = text;
    const fold = text && each.type !== "radio" && each.closest("details");
    if (fold) fold.open = true;
  }
  form.elements.key.value = queue.mark();
}

function next(form, shot) {
  const stays = Object.fromEntries(STAYS.map((name) => [name, shot[name] || ""]));
  fill(form, { ...stays, hole: `${Math.min((parseInt(shot.hole, 10) || 0) + 1, LAST_HOLE)}` });
}

// Everything that was said: should it be refused, nothing of it is lost.
function wordsOf(form, shot) {
  const named = (each) => (each.labels[0] || each.closest("fieldset").querySelector("legend")).textContent.trim().toLowerCase();
  const typed = ours(form).filter((each) => each.type !== "radio" && each.name !== "hole" && each.value.trim());
  const parts = typed.map((each) => `${each.name.startsWith("true_") ? "in truth " : ""}${named(each)} ${shot[each.name]}`);
  return [`hole ${shot.hole}`, shot.lie, `with the ${shot.shot}`, `finished: ${shot.finish_on}, ${shot.putts} putts`, ...parts].join(", ");
}

function missing(form, shot) {
  for (const [name, said] of [["hole", "hole is missing; write it like 4"], ["number", "number is missing; write it like 88"]]) {
    const problem = document.getElementById(`problem-${name}`);
    problem.hidden = /^\d/.test(shot[name] || "");
    if (problem.hidden) continue;
    problem.textContent = said;
    form.elements[name].focus();
    return true;
  }
  return false;
}

function shotBack(form) {
  const last = waits();
  if (!last) return false;
  queue.back({ to: TO, of: last.of, said: { what: "undo", key: last.of }, words: "taken back" }, false);
  fill(form, last.said);
  return true;
}

queue.take = (sent) => {
  const form = document.getElementById("recording");
  if (!form) return false;
  if (sent.id === "undo-form") return shotBack(form);
  if (sent !== form) return false;
  const shot = queue.said(form);
  if (missing(form, shot)) return true;
  queue.add({ to: TO, of: shot.key, said: shot, words: wordsOf(form, shot) });
  window.carrybookDrafts.forget(form);
  next(form, shot);
  window.scrollTo(0, 0);
  return true;
};
queue.shown = () => {
  const undo = document.getElementById("undo");
  if (undo && queue.balls(TO).size) undo.disabled = false;
};

function setUp() {
  const form = document.getElementById("recording");
  if (!form || form.dataset.ready) return;
  form.dataset.ready = "yes";
  form.elements.key.value = queue.mark(); // a page that was kept has one that was used
  const last = waits();
  if (last && !form.dataset.restored) next(form, last.said);
}
document.addEventListener("htmx:load", setUp);
document.addEventListener("htmx:afterSettle", () => {
  queue.show();
  fetch("/after").catch(() => {}); // so that it is seen like this with the network off
});
document.addEventListener("DOMContentLoaded", setUp);
// What came of it is read first: the hand does not go back to the field that it was in.
document.addEventListener("htmx:beforeSwap", (event) => {
  if (event.detail.target.id === "main" && document.activeElement) document.activeElement.blur();
});
