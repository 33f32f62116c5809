// The putts of a green: drag the hole or the ball, and the map follows: roughly first, then settled.
"use strict";

(() => {
  const form = document.getElementById("rolling");
  if (!form) return;
  const by = (id) => document.getElementById(id);
  const drag = window.carrybookDrag, put = drag.put;
  const svg = by("putting"), cup = by("putts-cup"), ball = by("putts-ball"), all = by("putts");
  const place = { cup: null, ball: null };
  let busy = false, next = null, turn = 0, moved = new Set();

  function complain(text, field) {
    for (const p of form.querySelectorAll(".problem")) p.hidden = true;
    const line = (field && by(`problem-putts-${field}`)) || by("putts-trouble");
    by("putts-trouble").hidden = true;
    line.hidden = !text;
    line.textContent = text;
  }

  async function ask(haste) {
    if (busy) { next = next === "settled" ? next : haste; return; }
    busy = true;
    all.setAttribute("aria-busy", "true");
    const data = new URLSearchParams(new FormData(form));
    for (const name of moved) { data.set(`${name}_x`, place[name].x); data.set(`${name}_y`, place[name].y); }
    data.set("haste", haste);
    const mine = (turn += 1), begun = performance.now();
    try {
      const reply = await fetch("/ground/putts", { method: "POST", body: data, headers: { "X-Token": form.elements.token.value } });
      const found = await reply.json();
      window.carrybookAway(false);
      if (found.problem) complain(found.problem, found.field);
      else show(found, haste, performance.now() - begun, mine);
    } catch { window.carrybookAway(true); }
    busy = false;
    if (next) { const then = next; next = null; ask(then); } else all.setAttribute("aria-busy", "false");
  }

  function show(found, haste, ms) {
    complain("");
    all.hidden = false;
    by("putts-map").innerHTML = found.map;
    window.carrybookRefill(by("putts-words"), found.words);
    all.dataset.haste = haste;
    all.dataset.ms = Math.round(ms);
    all.dataset.count = Number(all.dataset.count || 0) + 1;
    for (const [name, text] of Object.entries(found.fields)) {
      const field = form.elements[name];
      if (text && field !== document.activeElement) field.value = text;
    }
    cup.removeAttribute("hidden"); ball.removeAttribute("hidden");
    if (haste === "settled" && !next) {
      moved.clear();
      place.cup = { x: found.hole[0], y: found.hole[1] };
      place.ball = { x: found.ball[0], y: found.ball[1] };
      put(cup, place.cup); put(ball, place.ball);
      window.carrybookDrafts.forget(form);
      by("putts-spoken").textContent = by("putts-words").querySelector(".where")?.textContent || "";
    }
  }

  const box = svg.viewBox.baseVal;
  const within = (value, low, high) => Math.min(Math.max(value, low), high);
  for (const [name, each] of [["cup", cup], ["ball", ball]]) {
    drag.handle(each, svg, (p) => {
      place[name] = { x: within(p.x, box.x, box.x + box.width), y: within(p.y, box.y, box.y + box.height) };
      moved.add(name);
      put(each, place[name]);
      ask("rough");
    }, () => ask("settled"));
  }
  form.addEventListener("submit", (event) => { event.preventDefault(); event.stopPropagation(); moved.clear(); ask("settled"); });
  form.addEventListener("change", () => { moved.clear(); ask("settled"); });
  // Rolled once somebody looks at them.
  const fold = all.closest("details");
  let begun = !all.hidden;
  const begin = () => { if (!begun && fold.open) { begun = true; ask("settled"); } };
  fold.addEventListener("toggle", begin);
  begin();
})();
