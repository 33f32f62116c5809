// Drag the hole, the ball or the wind: a rough answer follows the hand, a settled one the rest.
"use strict";

(() => {
  const form = document.getElementById("asking");
  const plan = document.getElementById("plan");
  const answer = document.getElementById("answer");
  if (!form) return;

  // Another map or hole is another ground: the whole page follows.
  for (const name of ["map", "heights", "hole"]) {
    form.elements[name].addEventListener("change", () => {
      form.elements.hole_location.value = "";
      form.requestSubmit();
    });
  }
  if (!plan || !answer) return;

  const by = (id) => document.getElementById(id);
  const { point, put, spot } = window.carrybookDrag;
  const [cup, ball, vane] = ["cup", "ball", "vane"].map(by);
  const strip = by("strip"), dial = by("dial");
  const METRES_PER_S = 13.4112 / 50; // of one unit of the dial: its ring is 30 mph
  const UNIT = dial.dataset.unit;
  const PER_UNIT = UNIT === "mph" ? 0.44704 : 1;
  const place = { cup: spot(cup), ball: flip(spot(ball)) };
  let turn = Date.now(), busy = false, dirty = false, pending = null, rest = 0, held = null, job = null;

  function flip(p) { return { x: p.y, y: -p.x }; } // the strip lies on its side
  function unflip(p) { return { x: -p.y, y: p.x }; }
  // No height stands under the flag.
  const heights = [...plan.querySelectorAll(".height")];
  function clearFlag() {
    for (const each of heights) {
      const dx = each.getAttribute("x") - place.cup.x, dy = each.getAttribute("y") - place.cup.y;
      each.toggleAttribute("hidden", dx > -3 && dx < 5 && dy > -6.5 && dy < 2.5);
    }
  }
  function showPlaces() {
    clearFlag();
    put(cup, place.cup);
    put(ball, unflip(place.ball));
    const a = unflip(place.ball), b = unflip(place.cup);
    by("from-ball").setAttribute("d", `M${a.x} ${a.y}L${b.x} ${b.y}`);
  }

  // The wind in the form is the truth; the dial shows it.
  function windOf(text) {
    const found = text.trim().match(/^([\d.,]+)\s*(\S*)$/);
    if (!found) return 0;
    const per = { mph: 0.44704, mps: 1, "m/s": 1, kt: 0.514444, kts: 0.514444, "km/h": 1 / 3.6, kph: 1 / 3.6, "": PER_UNIT }[found[2].toLowerCase()];
    return per ? Number(found[1].replace(",", ".")) * per : 0;
  }
  function showWind() {
    const mps = windOf(form.elements.wind.value);
    const from = (parseFloat(form.elements.wind_from.value) || 0) * Math.PI / 180;
    const r = Math.min(mps / METRES_PER_S, 56);
    const x = r * Math.sin(from), y = -r * Math.cos(from);
    put(vane, { x, y });
    by("breeze").setAttribute("d", r > 4 ? `M${x} ${y}L${-0.4 * x} ${-0.4 * y}` : "");
    by("wind-words").textContent = mps < 0.25 ? "calm" : `${Math.round(mps / PER_UNIT)} ${UNIT === "mps" ? "m/s" : UNIT} from ${Math.round(from * 180 / Math.PI)}°`;
  }
  function setWind(x, y) {
    const mps = Math.min(Math.hypot(x, y), 50) * METRES_PER_S;
    const value = mps < 0.3 ? 0 : Math.round(mps / PER_UNIT * 2) / 2;
    form.elements.wind.value = `${value}`;
    form.elements.wind_from.value = `${Math.round((Math.atan2(x, -y) * 180 / Math.PI + 360) % 360)}`;
    form.elements.gust.value = "";
    showWind();
  }

  function complain(text, field) {
    for (const p of form.querySelectorAll(".problem")) p.hidden = true;
    const beside = field && by(`problem-${field}`);
    const line = beside || by("trouble");
    by("trouble").hidden = true;
    line.hidden = !text;
    line.textContent = text;
    const fold = text && line.closest("details");
    if (fold) fold.open = true;
  }

  function body(places, haste) {
    const data = new URLSearchParams(new FormData(form));
    if (places) {
      data.set("cup_x", place.cup.x); data.set("cup_y", place.cup.y);
      data.set("ball_x", place.ball.x); data.set("ball_y", place.ball.y);
    }
    data.set("haste", haste);
    data.set("turn", (turn += 1).toString(36));
    return data;
  }
  async function post(path, data) {
    const reply = await fetch(path, { method: "POST", body: data, headers: { "X-Token": form.elements.token.value } });
    return reply.json();
  }

  async function ask(haste, places) {
    const rough = haste === "rough";
    if (rough && busy) { pending = { haste, places }; return; }
    if (rough) busy = true;
    answer.setAttribute("aria-busy", "true");
    places = places || dirty; // a drag that was not answered yet still counts
    const begun = performance.now();
    try {
      const data = await post("/shot/answer", body(places, haste));
      window.carrybookAway(false);
      if (!data.old && !rough) answer.setAttribute("aria-busy", "false");
      if (data.problem) complain(data.problem, data.field);
      else if (!data.old) {
        complain("");
        show(data, haste, performance.now() - begun, places);
        if (haste === "settled") { dirty = false; window.carrybookDrafts.forget(form); by("spoken").textContent = data.said; mapPutts(); later(full, 700); }
      }
    } catch { window.carrybookAway(true); window.carrybookDrafts.save(form); }
    if (!rough) return;
    busy = false;
    if (pending) { const next = pending; pending = null; ask(next.haste, next.places); }
  }

  function show(data, haste, ms, places) {
    window.carrybookRefill(answer, data.answer);
    by("head").innerHTML = data.head;
    by("pattern").innerHTML = data.pattern;
    by("side").innerHTML = data.side;
    answer.dataset.haste = haste;
    answer.dataset.ms = Math.round(ms);
    answer.dataset.count = Number(answer.dataset.count || 0) + 1;
    for (const [name, text] of Object.entries(data.fields)) {
      const field = form.elements[name];
      if (text && field !== document.activeElement && (places || !held)) field.value = window.carrybookDrafts.shown(field, text);
    }
    if (!held && !pending) {
      place.cup = { x: data.hole[0], y: data.hole[1] };
      place.ball = { x: data.ball[0], y: data.ball[1] };
      showPlaces();
    }
    showWind();
  }

  // The putts are mapped only where somebody looks, and anew when the answer has settled.
  const putts = by("putting-part");
  async function mapPutts() {
    if (!putts.open) return;
    try {
      const reply = await fetch("/shot/putts");
      if (reply.ok) window.carrybookRefill(by("putts-here"), await reply.text());
    } catch { window.carrybookAway(true); }
  }
  putts.addEventListener("toggle", mapPutts);

  function later(what, ms) { clearTimeout(rest); rest = setTimeout(what, ms); }
  function stopFull() {
    if (!job) return;
    post("/shot/stop", new URLSearchParams({ key: job }));
    job = null;
    by("work").hidden = true;
  }
  function settle(places) { pending = null; ask("settled", places); }

  // All of it, beside the page: it says how far it is, and stops when told to.
  async function full() {
    try {
      const mine = job = (await post("/shot/full", body(false, "full"))).job;
      by("work").hidden = false;
      while (mine && job === mine) {
        const state = await (await fetch(`/shot/job/${mine}`)).json();
        if (job !== mine) return;
        by("share").value = state.share;
        by("doing").textContent = state.words;
        if (state.done) {
          job = null;
          by("work").hidden = true;
          if (state.result && !held) show(state.result, "full", 0, false);
          return;
        }
        await new Promise((wake) => setTimeout(wake, 200));
      }
    } catch { job = null; by("work").hidden = true; }
  }
  by("stop").addEventListener("click", stopFull);

  function draggable(handle, svg, move, places) {
    handle.addEventListener("pointerdown", (event) => {
      event.preventDefault();
      handle.setPointerCapture(event.pointerId);
      held = handle;
      dirty = dirty || places;
      clearTimeout(rest);
      stopFull();
    });
    handle.addEventListener("pointermove", (event) => {
      if (held !== handle) return;
      move(point(svg, event));
      ask("rough", places);
    });
    const drop = () => {
      if (held !== handle) return;
      held = null;
      settle(places);
    };
    handle.addEventListener("pointerup", drop);
    handle.addEventListener("pointercancel", drop);
  }
  function stepped(handle, step, places) {
    handle.addEventListener("keydown", (event) => {
      const way = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[event.key];
      if (!way) return;
      event.preventDefault();
      stopFull();
      dirty = dirty || places;
      step(way[0], way[1]);
      ask("rough", places);
      later(() => settle(places), 450);
    });
  }

  const box = plan.viewBox.baseVal;
  const within = (value, low, high) => Math.min(Math.max(value, low), high);
  draggable(cup, plan, (p) => {
    place.cup = { x: within(p.x, box.x, box.x + box.width), y: within(p.y, box.y, box.y + box.height) };
    showPlaces();
  }, true);
  draggable(ball, strip, (p) => { place.ball = flip(p); showPlaces(); }, true);
  draggable(vane, dial, (p) => setWind(p.x, p.y), false);
  stepped(cup, (x, y) => { place.cup.x += x * 0.9144; place.cup.y += y * 0.9144; showPlaces(); }, true);
  stepped(ball, (x, y) => { place.ball.y -= x * 0.9144; place.ball.x += y * 0.9144; showPlaces(); }, true);
  stepped(vane, (x, y) => {
    const from = ((parseFloat(form.elements.wind_from.value) || 0) + 10 * x + 360) % 360;
    const mps = Math.max(windOf(form.elements.wind.value) - y * PER_UNIT, 0);
    const r = mps / METRES_PER_S;
    setWind(r * Math.sin(from * Math.PI / 180), -r * Math.cos(from * Math.PI / 180));
  }, false);

  form.addEventListener("change", (event) => {
    if (["map", "heights", "hole"].includes(event.target.name)) return;
    stopFull();
    showWind();
    if (["number", "off_line", "hole_location"].includes(event.target.name)) dirty = false; // typed words win
    settle(false);
  });
  clearFlag();
  showWind();
  if (form.dataset.restored) settle(false);
  else if (answer.dataset.haste !== "full") later(full, 700);
})();
