// Where the hand is once a part of the page was changed, what is spoken, and wide tables made narrow.
"use strict";

(() => {
  const told = document.getElementById("told");
  let byKey = false;
  document.addEventListener("keydown", () => { byKey = true; }, true);
  document.addEventListener("pointerdown", () => { byKey = false; }, true);

  // The hand is nowhere too where it is on what was hidden or shut under it.
  function lost() {
    const at = document.activeElement;
    return !at || at === document.body || at.disabled || !at.getClientRects().length;
  }

  // One place that is there from the start: what is put into a page with its words is often not read out.
  function speak(part) {
    const lines = [...part.querySelectorAll("[role=status]:not([id]), .work.going span, .problem:not([hidden])")];
    for (const line of lines) line.setAttribute("aria-live", "off");
    const said = lines.map((line) => line.textContent.trim()).filter(Boolean).join(" ");
    if (said && said !== told.textContent) told.textContent = said;
  }

  // To what is wrong, or to what came of it, or to what is next. A thumb gets no keyboard that it did not ask for.
  function land(part) {
    const next = part.id === "main" ? "[data-lands='']" : "[data-lands]";
    const to = ["[aria-invalid]", ".problem:not([hidden])", next, "h1"]
      .map((which) => part.querySelector(which)).find(Boolean);
    const field = to && (to.matches(".stepper") ? to.querySelector("input") : to);
    if (!field || (!byKey && field.matches("input, select, textarea"))) return;
    if (!field.matches("input, select, textarea, button, a[href], summary")) field.tabIndex = -1;
    field.focus();
  }

  // Work that still goes on moves its bar on, and nothing else: hand, caret and folds stay where they are.
  function goesOn(event) {
    const part = event.detail.target, here = part.querySelector(".work.going");
    if (!here || !event.detail.shouldSwap) return false;
    const then = new DOMParser().parseFromString(event.detail.serverResponse, "text/html").querySelector(".work.going");
    if (!then) return false;
    for (const name of ["value", "max"]) {
      const value = then.querySelector("progress").getAttribute(name);
      if (value !== null) here.querySelector("progress").setAttribute(name, value);
    }
    here.querySelector("span").textContent = then.querySelector("span").textContent;
    here.querySelector("button").disabled = then.querySelector("button").disabled;
    event.detail.shouldSwap = false;
    if (lost()) land(part);
    window.htmx.trigger(here, "again");
    return true;
  }

  const held = new Map();
  document.addEventListener("htmx:beforeSwap", (event) => {
    if (goesOn(event)) return;
    const part = event.detail.target;
    if (part.id && event.detail.shouldSwap) held.set(part.id, { part, was: part.contains(document.activeElement) });
  });
  // Once it has settled: until then it looks like what it replaces.
  document.addEventListener("htmx:afterSettle", () => {
    for (const [id, before] of held) {
      const part = document.getElementById(id);
      if (!part || part === before.part) continue;
      held.delete(id);
      speak(part);
      if (before.was && lost()) land(part);
    }
  });

  // A form that is answered with a whole page: it says there how it was sent.
  const SENT = "sent-by";
  document.addEventListener("submit", (event) => {
    if (event.target.hasAttribute("hx-post")) return;
    try { sessionStorage.setItem(SENT, byKey ? "key" : "hand"); } catch { /* shut */ }
  });
  function arrived() {
    let how = null;
    try { how = sessionStorage.getItem(SENT); sessionStorage.removeItem(SENT); } catch { return; }
    if (!how) return;
    const main = document.getElementById("main");
    setTimeout(() => speak(main), 300);
    byKey = how === "key";
    if (byKey && lost()) land(main);
  }

  // Rows that become blocks on a narrow window: every value brings its heading, and a table stays a table.
  const ROLES = { TABLE: "table", THEAD: "rowgroup", TBODY: "rowgroup", TR: "row", TD: "cell" };
  function narrow(root) {
    for (const table of root.querySelectorAll("table.blocks:not(.ready), table.lines:not(.ready)")) {
      const heads = table.tHead ? [...table.tHead.rows[0].cells].map((cell) => cell.textContent) : [];
      for (const each of [table, ...table.querySelectorAll("thead, tbody, tr, td, th")]) {
        each.setAttribute("role", ROLES[each.tagName] || (each.scope === "row" ? "rowheader" : "columnheader"));
      }
      for (const row of table.tBodies[0].rows) {
        for (const [k, cell] of [...row.cells].entries()) if (k && heads[k]) cell.dataset.label = heads[k];
      }
      table.classList.add("ready");
    }
  }

  // What was folded out stays so in this visit; on a wide window there is room for all of it.
  const FOLDS = "folds";
  function folds() {
    let open = {};
    try { open = JSON.parse(sessionStorage.getItem(FOLDS)) || {}; } catch { /* shut */ }
    const wide = window.matchMedia("(min-width: 60rem)").matches;
    for (const fold of document.querySelectorAll("details[data-fold]:not([data-ready])")) {
      fold.dataset.ready = "yes";
      const name = `${fold.dataset.fold} ${wide ? "wide" : "narrow"}`;
      fold.open = fold.open || (name in open ? open[name] : wide);
      fold.addEventListener("toggle", () => {
        open[name] = fold.open;
        try { sessionStorage.setItem(FOLDS, JSON.stringify(open)); } catch { /* full or shut */ }
      });
    }
  }

  // Words that follow the hand: what was folded out, and where the hand was in them, stays.
  const STOPS = "summary, a[href], button, [tabindex]";
  window.carrybookRefill = (part, html) => {
    const open = [...part.querySelectorAll("details")].map((each) => each.open);
    const at = [...part.querySelectorAll(STOPS)].indexOf(document.activeElement);
    part.innerHTML = html;
    narrow(part);
    folds();
    part.querySelectorAll("details").forEach((each, k) => { each.open = Boolean(open[k]); });
    if (at >= 0) part.querySelectorAll(STOPS)[at]?.focus({ preventScroll: true });
  };

  narrow(document);
  folds();
  document.addEventListener("htmx:load", (event) => { narrow(event.detail.elt.parentNode || document); folds(); });
  arrived();
})();
