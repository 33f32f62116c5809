// The look comes some seconds after the call: an own estimate first. While nobody answers the
// session goes on here, ball by ball; what is said waits.
"use strict";

const TO = "/practise/waiting";
const NO_CALL = "–";
const part = () => document.getElementById("practise-part");
let alone = false; // whether what is shown was made here

function waitForTheLook(form) {
  const measured = form.querySelector("#measured");
  const countdown = form.querySelector("#countdown");
  let left = Number(form.dataset.reveal);
  if (measured.querySelector(".problem:not([hidden])")) return;
  const tick = () => {
    if (!form.isConnected) return;
    measured.hidden = left > 0;
    countdown.textContent = left > 0 ? `Do not look yet: ${left}` : "Now look.";
    if (left > 0) { left -= 1; setTimeout(tick, 1000); } else form.elements.carry.focus();
  };
  tick();
}

function setUp() {
  for (const input of document.querySelectorAll("#practise-part .stepper input")) {
    if (input.dataset.ready) continue;
    input.dataset.ready = "yes";
    if (input.name !== "side") input.placeholder = parseFloat(input.form.dataset.start) || "";
    addNudges(input);
  }
  const result = document.getElementById("result");
  if (result && !result.dataset.ready) {
    result.dataset.ready = "yes";
    waitForTheLook(result);
  }
}

// The session as the server last told it, and as what waits makes it.
function session() {
  const root = part();
  const told = JSON.parse(root.dataset.balls);
  const balls = told.map((ball) => ({ ...ball }));
  for (const { said } of queue.waiting(TO)) {
    const ball = said.session === root.dataset.session && balls.find((each) => String(each.place) === said.place);
    if (!ball) continue;
    if (said.what === "call") ball.called = said.called || NO_CALL;
    if (said.what === "result" || said.what === "skip") ball.done = true;
    if (said.what === "undo") Object.assign(ball, { called: "", done: false });
  }
  return {
    balls,
    next: balls.find((ball) => !ball.done),
    last: balls.filter((ball) => ball.done || ball.called).pop(),
    arrived: (ball) => told.some((each) => each.place === ball.place && (each.done || each.called)),
  };
}

function cardOf(ball) {
  const card = document.getElementById(ball.called ? "to-measure" : "to-call").content.cloneNode(true).firstElementChild;
  for (const slot of card.querySelectorAll("[data-slot]")) slot.textContent = ball[slot.dataset.slot];
  card.querySelector("[data-slot=feel]").hidden = !ball.feel;
  card.querySelector(".cue-large").hidden = !ball.cue;
  const form = card.querySelector("form");
  form.elements.place.value = ball.place;
  form.dataset.start = parseFloat(ball.called) ? ball.called : ball.start;
  for (const input of form.querySelectorAll(".entry input")) input.value = "";
  for (const problem of form.querySelectorAll(".problem")) problem.hidden = true;
  return card;
}

function show() {
  const root = part();
  if (!root || !root.dataset.session || (!alone && !queue.waiting(TO).length)) return;
  alone = true;
  const { balls, next, last } = session();
  root.querySelector(".sum").textContent = `${root.dataset.title}, ${balls.filter((ball) => ball.done).length} of ${balls.length} balls`;
  const place = document.getElementById("ball-place");
  const stands = JSON.stringify(next || null);
  if (place.dataset.stands !== stands) {
    place.dataset.stands = stands;
    place.textContent = next ? "" : "All balls are struck. End the session, and see how it went.";
    if (next) {
      const card = cardOf(next);
      place.append(card);
      htmx.process(card);
      htmx.trigger(card, "htmx:load", { elt: card });
    }
  }
  document.getElementById("undo").disabled = !last;
  const end = document.getElementById("end");
  if (end) end.disabled = Boolean(queue.waiting(TO).length); // not before they are in the book
}

const nameOf = (ball) => `ball ${ball.place}, ${ball.what}`;

function wordsOf(ball, said) {
  if (said.what === "result") return `was ${said.carry}${said.side ? `, side ${said.side}` : ""}`;
  const first = said.what === "skip" ? "skipped" : said.called ? `called ${said.called}` : "not called";
  return `${nameOf(ball)}: ${first}`;
}

function needsCarry(form, said) {
  const missing = said.what === "result" && !/^\d/.test(said.carry || "");
  const problem = missing && form.querySelector("#problem-carry");
  if (problem) {
    problem.textContent = "it carried is missing; write it like 76";
    problem.hidden = false;
  }
  return missing;
}

function forgetDrafts() {
  for (const draft of ["call", "result"]) window.carrybookDrafts.forget({ dataset: { draft } });
}

queue.take = (form) => {
  const root = part();
  const what = form.dataset && form.dataset.what;
  if (!what || !root || !root.dataset.session) return false;
  const now = session();
  const ball = what === "undo" ? now.last : now.next;
  if (!ball) return false;
  const said = { ...queue.said(form), session: root.dataset.session, place: String(ball.place), what };
  if (needsCarry(form, said)) return true;
  alone = true;
  const step = { to: TO, of: `${said.session} ${said.place}`, said, words: wordsOf(ball, said), name: nameOf(ball) };
  if (what === "undo") queue.back(step, now.arrived(ball));
  else queue.add(step);
  forgetDrafts();
  return true;
};
queue.shown = show;

document.addEventListener("htmx:load", setUp);
document.addEventListener("htmx:beforeSwap", (event) => {
  if (event.detail.target !== part()) return;
  if (!event.detail.serverResponse.includes('id="practise-part"')) {
    event.detail.target = document.getElementById("main");
    event.detail.selectOverride = "#main";
  }
});
document.addEventListener("htmx:afterSwap", (event) => {
  if (event.detail.xhr.status < 400) forgetDrafts();
  alone = false;
  queue.show();
  fetch("/practise").catch(() => {}); // so that it is seen like this with the network off
});
setUp();
