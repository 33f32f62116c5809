// What is said while nobody answers waits on this device; it is sent in order, and counts once.
"use strict";

const PATIENCE_MS = 10000; // ours: then nobody answers

const queue = {
  memory: {}, // where the device keeps nothing
  take: () => false, // of the room: whether a form that nobody answered waits now
  shown: () => {}, // of the room: what waits has changed

  read(name) {
    if (name in queue.memory) return queue.memory[name];
    try { return JSON.parse(localStorage.getItem(name)) || []; } catch { return []; }
  },
  write(name, list) {
    try {
      localStorage.setItem(name, JSON.stringify(list));
      delete queue.memory[name];
    } catch { queue.memory[name] = list; }
    queue.show();
  },

  waiting: (to) => queue.read("waiting").filter((each) => !to || each.to === to),
  mark() { return crypto.randomUUID ? crypto.randomUUID() : `${Date.now()}-${Math.random()}`; },

  // What a form says; a bare number keeps the unit that stands beside it.
  said(form) {
    const said = {};
    for (const [name, value] of new FormData(form)) {
      const field = form.elements[name];
      if (name !== "token") said[name] = window.carrybookDrafts.whole(field, value);
    }
    return said;
  },

  // One step: where it goes, which ball it is of, what is said, and how that reads.
  add(step) { queue.write("waiting", [...queue.read("waiting"), { ...step, mark: queue.mark(), at: Date.now() }]); },

  // Take back what waits of a ball. What may have arrived already is taken back there, too.
  back(step, arrived) {
    const kept = queue.read("waiting").filter((each) => each.of !== step.of || each.tried);
    queue.write("waiting", kept);
    if (arrived || kept.some((each) => each.of === step.of)) queue.add(step);
  },

  // Balls that wait, in words; one that was taken back is none.
  balls(to) {
    const found = new Map();
    for (const each of queue.waiting(to)) {
      if (each.said.what === "undo") found.delete(each.of);
      else found.set(each.of, [...(found.get(each.of) || []), each.words]);
    }
    return found;
  },

  show() {
    const box = document.getElementById("waiting");
    if (!box) return;
    const steps = queue.waiting().length;
    const balls = [...queue.balls().values()];
    const refused = queue.read("refused");
    const line = (kind, text, ...more) => {
      const made = document.createElement(kind);
      made.append(text, ...more);
      return made;
    };
    box.hidden = !steps && !refused.length;
    box.replaceChildren();
    if (steps) {
      const shots = queue.balls("/after/waiting").size; // of a round
      const some = (count, name) => (count ? [`${count} ${name}${count === 1 ? "" : "s"}`] : []);
      const named = [...some(balls.length - shots, "ball"), ...some(shots, "shot")].join(" and ");
      const what = balls.length === 1 ? `${named} waits here and is` : balls.length ? `${named} wait here and are` : "What was taken back is";
      box.append(line("p", `${what} sent when the server answers.`));
      box.append(line("ul", "", ...balls.map((words) => line("li", words.join(", ")))));
    }
    for (const each of refused) {
      const forget = line("button", "Forget it");
      forget.type = "button";
      forget.addEventListener("click", () => queue.write("refused", queue.read("refused").filter((other) => other.mark !== each.mark)));
      const words = line("p", `Not taken: ${each.words}. ${each.why}. `);
      words.className = "problem";
      box.append(words, forget);
    }
    queue.shown();
  },

  // Send one step; what comes back is none where it must wait longer.
  async post(step, token) {
    const body = new URLSearchParams({ ...step.said, waited: Math.max(0, Math.round((Date.now() - step.at) / 1000)) });
    const late = new AbortController();
    const timer = setTimeout(() => late.abort(), PATIENCE_MS);
    try {
      const answer = await fetch(step.to, { method: "POST", headers: { "X-Token": token }, redirect: "manual", body, signal: late.signal });
      const told = await answer.json();
      return "taken" in told || "refused" in told ? told : null;
    } catch { return null; } finally { clearTimeout(timer); }
  },

  // What a step says, read alone.
  whole: (step) => (!step.name || step.words.startsWith(step.name) ? step.words : `${step.name}: ${step.words}`),

  sending: false,
  async send() {
    const token = document.querySelector("input[name=token]");
    if (queue.sending || !token || !queue.waiting().length) return;
    queue.sending = true;
    try {
      for (let step = queue.waiting()[0]; step; step = queue.waiting()[0]) {
        queue.write("waiting", queue.read("waiting").map((each) => (each.mark === step.mark ? { ...each, tried: true } : each)));
        const told = await queue.post(step, token.value);
        if (told === null) return;
        if (told.refused) queue.write("refused", [...queue.read("refused"), { mark: step.mark, words: queue.whole(step), why: told.refused }]);
        // What was not taken need not be taken back.
        const gone = (each) => each.mark === step.mark || (told.refused && each.of === step.of && each.said.what === "undo");
        queue.write("waiting", queue.read("waiting").filter((each) => !gone(each)));
        window.carrybookAway(false);
      }
    } finally { queue.sending = false; }
    location.reload();
  },
};

// Nothing overtakes what waits.
document.addEventListener("htmx:beforeRequest", (event) => {
  if (!queue.waiting().length || !queue.take(event.detail.elt)) return;
  event.preventDefault();
  queue.send();
});
for (const lost of ["htmx:sendError", "htmx:timeout"]) {
  document.addEventListener(lost, (event) => queue.take(event.detail.elt));
}
window.addEventListener("online", queue.send);
window.addEventListener("storage", queue.show); // another window of ours
setInterval(queue.send, 5000);
document.addEventListener("DOMContentLoaded", () => { queue.show(); queue.send(); });
