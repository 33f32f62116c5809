// The call comes before the number; one thumb is enough; a ball logged without a server waits here.
"use strict";

const TO = "/range/waiting";

function setUp() {
  const form = document.getElementById("logging");
  queue.show();
  if (!form || form.dataset.ready) return;
  form.dataset.ready = "yes";
  for (const input of form.querySelectorAll(".stepper input")) addNudges(input);
  const measured = document.getElementById("measured");
  const reveal = document.getElementById("reveal");
  const called = form.elements.called;
  const shown = form.dataset.called || form.elements.carry.value || form.querySelector(".problem:not([hidden])");
  const show = (is) => { measured.hidden = !is; reveal.hidden = is; called.readOnly = is; };
  show(Boolean(shown));
  const CALL = reveal.textContent;
  reveal.addEventListener("click", () => {
    if (!called.value.trim() && reveal.textContent === CALL) {
      reveal.textContent = "No call for this one: look anyway";
      called.focus();
      return;
    }
    show(true);
    if (!form.elements.carry.value) form.elements.carry.value = "";
    form.elements.carry.focus();
  });
  for (const chip of form.querySelectorAll("input[name=shot]")) {
    chip.addEventListener("change", () => { form.elements.intended.value = window.carrybookDrafts.shown(form.elements.intended, chip.dataset.stock); follow(); });
  }
  // An empty call starts from what was meant, an empty carry from the call.
  const follow = () => {
    called.placeholder = parseFloat(form.elements.intended.value) || called.placeholder;
    form.elements.carry.placeholder = parseFloat(called.value) || called.placeholder;
  };
  form.addEventListener("input", follow);
  called.addEventListener("input", () => { reveal.textContent = CALL; });
  follow();
  called.addEventListener("keydown", (event) => {
    if (event.key === "Enter" && measured.hidden) { event.preventDefault(); reveal.click(); }
  });
}

// The form is ready for a ball: a new one, or one that was taken back.
function begin(form, ball = {}) {
  for (const name of ["called", "carry", "side", "note"]) {
    form.elements[name].value = window.carrybookDrafts.shown(form.elements[name], ball[name] || "");
  }
  form.elements.key.value = queue.mark();
  const again = Boolean(ball.carry);
  form.elements.called.readOnly = again;
  document.getElementById("measured").hidden = !again;
  document.getElementById("reveal").hidden = again;
}

function ballBack(form) {
  const last = [...queue.balls(TO).keys()].pop();
  if (!last) return false;
  const ball = queue.waiting(TO).find((step) => step.of === last).said;
  queue.back({ to: TO, of: last, said: { what: "undo", key: last }, words: "taken back" }, false);
  for (const chip of form.querySelectorAll("input[name=shot]")) chip.checked = chip.value === ball.shot;
  form.elements.intended.value = window.carrybookDrafts.shown(form.elements.intended, ball.intended || "");
  begin(form, ball);
  return true;
}

function stepOf(ball) {
  const words = [["meant", ball.intended], ["called", ball.called], ["was", ball.carry], ["side", ball.side]];
  return { to: TO, of: ball.key, said: ball, words: `${ball.shot}: ${words.filter(([, said]) => said).map((each) => each.join(" ")).join(", ")}` };
}

// Balls that have waited on this device since an earlier version, which kept them elsewhere.
function takeOver() {
  for (const ball of queue.read("balls-waiting")) queue.add(stepOf(ball));
  try { localStorage.removeItem("balls-waiting"); } catch { /* shut: there were none */ }
}

// No server: the ball waits, the form is ready for the next one.
queue.take = (sent) => {
  const form = document.getElementById("logging");
  if (form && sent.id === "undo-form") return ballBack(form);
  if (sent !== form) return false;
  queue.add(stepOf(queue.said(form)));
  window.carrybookDrafts.forget(form);
  begin(form);
  return true;
};
queue.shown = () => {
  const undo = document.getElementById("undo");
  if (undo && queue.balls(TO).size) undo.disabled = false;
};

document.addEventListener("htmx:load", setUp);
takeOver();
setUp();
