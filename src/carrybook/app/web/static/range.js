// The call comes before the number; one thumb is enough; a ball logged without a server waits here.
"use strict";

const WAITING = "balls-waiting";

function waiting() {
  try { return JSON.parse(localStorage.getItem(WAITING)) || []; } catch { return []; }
}
function keepWaiting(balls) {
  try { localStorage.setItem(WAITING, JSON.stringify(balls)); } catch { /* full or shut */ }
  showWaiting();
}
function showWaiting() {
  const line = document.getElementById("waiting");
  const count = waiting().length;
  if (!line) return;
  line.hidden = !count;
  line.textContent = count === 1 ? "1 ball waits here and is sent when the server answers."
    : count ? `${count} balls wait here and are sent when the server answers.` : "";
}

function setUp() {
  const form = document.getElementById("logging");
  showWaiting();
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

// No server: the ball waits, the form is ready for the next one.
document.addEventListener("htmx:sendError", (event) => {
  const form = event.detail.elt;
  if (form.id !== "logging") return;
  const ball = Object.fromEntries(new FormData(form));
  delete ball.token;
  keepWaiting([...waiting(), ball]);
  window.carrybookDrafts.forget(form);
  for (const name of ["called", "carry", "side", "note"]) form.elements[name].value = "";
  form.elements.key.value = crypto.randomUUID ? crypto.randomUUID() : String(Math.random()).slice(2);
  form.elements.called.readOnly = false;
  document.getElementById("measured").hidden = true;
  document.getElementById("reveal").hidden = false;
});

async function send() {
  const token = document.querySelector("input[name=token]");
  let balls = waiting();
  while (token && balls.length) {
    let answer;
    try {
      answer = await fetch("/range", { method: "POST", headers: { "X-Token": token.value }, body: new URLSearchParams(balls[0]) });
    } catch { return; }
    if (!answer.ok) {
      // What cannot be used goes back into the form, to be mended by hand.
      document.getElementById("waiting").textContent = "A ball that waited was refused; it is in the form again.";
    }
    balls = waiting().slice(1);
    keepWaiting(balls);
    window.carrybookAway(false);
    if (!balls.length) location.reload();
  }
}

document.addEventListener("htmx:load", setUp);
window.addEventListener("online", send);
setInterval(() => { if (waiting().length) send(); }, 5000);
setUp();
send();
