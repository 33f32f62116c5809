// A green sketched by tapping points: every tap is a line of words, and the green is seen at once.
"use strict";

(() => {
  const form = document.getElementById("sketching");
  if (!form) return;
  const by = (id) => document.getElementById(id);
  const drag = window.carrybookDrag;
  const words = by("field-green"), board = by("board"), points = by("board-points"), cursor = by("cursor");
  const PACE = 0.9144, rise = by("rise");
  const HEIGHT = /^height\s+([-+−]?[\d.,]+)(?: on)?,?\s+([-+−]?[\d.,]+)(?: (left|right))?[\s:,]+(.+)$/i;
  let asked = 0, later = 0;
  by("board-part").hidden = false;

  const number = (text) => Number(text.replace("−", "-").replace(",", "."));
  const lines = () => words.value.split("\n");
  const outlineAt = (all) => all.findIndex((line) => /^\s*outline\b/i.test(line));
  function corners(line) {
    const found = (line || "").replace(/^\s*outline/i, "").split(/[\s,]+/).filter(Boolean).map(number);
    const pairs = [];
    for (let k = 0; k + 1 < found.length; k += 2) pairs.push([found[k], found[k + 1]]);
    return pairs;
  }
  const outlineOf = (pairs) => `outline ${pairs.map((p) => p.join(" ")).join(", ")}`;
  const half = (metres) => Math.round(metres / PACE * 2) / 2;
  const spotOf = (on, right, high) => `height ${on} on, ${Math.abs(right)} ${right < 0 ? "left" : "right"}: ${high}`;

  function write(all) {
    words.value = all.filter((line, k) => line.trim() || k < all.length - 1).join("\n").replace(/^\n+/, "");
    words.dispatchEvent(new Event("input", { bubbles: true }));
  }
  function add(p) {
    const on = half(-p.y), right = half(p.x), all = lines();
    if (form.elements.taps.value === "height") {
      const typed = rise.value.trim() || "0";
      all.push(spotOf(on, right, /^[-+−]?[\d.,]+$/.test(typed) ? `${typed}${rise.dataset.unit}` : typed));
    } else {
      const at = outlineAt(all), pairs = at < 0 ? [] : corners(all[at]);
      pairs.push([on, right]);
      if (at < 0) all.unshift(outlineOf(pairs)); else all[at] = outlineOf(pairs);
    }
    write(all);
  }
  function takeBack() {
    const all = lines(), heights = form.elements.taps.value === "height";
    if (heights) {
      const at = all.findLastIndex((line) => HEIGHT.test(line.trim()));
      if (at >= 0) all.splice(at, 1);
    } else {
      const at = outlineAt(all), pairs = corners(all[at]).slice(0, -1);
      if (at >= 0) { if (pairs.length) all[at] = outlineOf(pairs); else all.splice(at, 1); }
    }
    write(all);
  }

  function element(name, attributes, text) {
    const made = document.createElementNS(board.namespaceURI, name);
    for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
    if (text) made.textContent = text;
    return made;
  }
  function place(on, right) { return { x: right * PACE, y: -on * PACE }; }
  function point(kind, p, moved) {
    const dot = element("circle", { class: `${kind} handle`, r: 0.7, transform: `translate(${p.x.toFixed(2)} ${p.y.toFixed(2)})` });
    let at = p;
    drag.handle(dot, board, (to) => { at = to; drag.put(dot, to); }, () => moved(half(-at.y), half(at.x)));
    points.append(dot);
  }
  function draw() {
    points.replaceChildren();
    const all = lines(), at = outlineAt(all), pairs = corners(all[at]);
    const path = pairs.map((p, k) => `${k ? "L" : "M"}${(p[1] * PACE).toFixed(2)} ${(-p[0] * PACE).toFixed(2)}`).join("");
    if (pairs.length > 1) points.append(element("path", { class: "sketched-edge", d: pairs.length > 2 ? `${path}Z` : path }));
    pairs.forEach((p, k) => {
      if (p.some(Number.isNaN)) return;
      point("corner", place(...p), (on, right) => { pairs[k] = [on, right]; all[at] = outlineOf(pairs); write(all); });
    });
    all.forEach((line, k) => {
      const found = line.trim().match(HEIGHT);
      if (!found) return;
      const right = number(found[2]) * (found[3]?.toLowerCase() === "left" ? -1 : 1), p = place(number(found[1]), right);
      point("spot-read", p, (on, aside) => { all[k] = spotOf(on, aside, found[4]); write(all); });
      points.append(element("text", { class: "spot-words", x: (p.x + 1).toFixed(2), y: (p.y - 0.6).toFixed(2) }, found[4]));
    });
    const heights = all.filter((line) => HEIGHT.test(line.trim())).length;
    return { corners: pairs.length, heights };
  }

  async function look() {
    const mine = (asked += 1), has = draw(), map = by("board-map");
    if (!words.value.trim()) { map.replaceChildren(); say("Tap the corners of the green, once round it."); return; }
    if (has.corners > 0 && has.corners < 3) { map.replaceChildren(); say(`${has.corners} of at least 3 corners.`); return; }
    const data = new URLSearchParams(new FormData(form));
    const begun = performance.now();
    try {
      const reply = await fetch("/ground/sketch", { method: "POST", body: data, headers: { "X-Token": form.elements.token.value } });
      const found = await reply.json();
      window.carrybookAway(false);
      if (mine !== asked) return;
      board.dataset.ms = Math.round(performance.now() - begun);
      if (found.problem) { say(found.problem); return; }
      map.setAttribute("transform", `translate(0 ${(-found.front).toFixed(2)})`);
      map.innerHTML = found.map;
      say(found.size);
    } catch { window.carrybookAway(true); }
  }
  function say(text) { by("board-said").textContent = text; }

  board.addEventListener("click", (event) => {
    if (event.target.closest("#board-points .handle")) return;
    const p = drag.point(board, event);
    drag.put(cursor, p);
    add(p);
  });
  // Where it would go is said once the hand rests, unless a point was put meanwhile.
  let wandering = false;
  drag.handle(cursor, board, (p) => { wandering = true; drag.put(cursor, p); }, () => {
    const p = drag.spot(cursor), right = half(p.x);
    if (wandering) say(`${half(-p.y)} on, ${Math.abs(right)} ${right < 0 ? "left" : "right"}`);
    wandering = false;
  });
  cursor.addEventListener("keydown", (event) => {
    if (event.key === "Enter" || event.key === " ") { event.preventDefault(); wandering = false; add(drag.spot(cursor)); }
    if (event.key === "Backspace") { event.preventDefault(); takeBack(); }
  });
  by("undo-point").addEventListener("click", takeBack);
  form.addEventListener("change", () => { by("rise-part").hidden = form.elements.taps.value !== "height"; });
  rise.addEventListener("keydown", (event) => { if (event.key === "Enter") event.preventDefault(); });
  words.addEventListener("input", () => { clearTimeout(later); draw(); later = setTimeout(look, 150); });
  by("rise-part").hidden = form.elements.taps.value !== "height";
  look();
})();
