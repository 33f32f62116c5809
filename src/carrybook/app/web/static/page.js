// Keeps what is typed, says when the server is away, lets the page be installed. No outside address.
"use strict";

const SENT = "sent-forms";
const drafts = {
  key: (form) => `draft:${form.dataset.draft}`,
  units: () => document.documentElement.dataset.units,
  bare: /^[-+−]?(\d+([.,]\d*)?|[.,]\d+)$/,

  save(form) {
    const kept = {};
    for (const field of form.elements) {
      if (!field.name || ["hidden", "file", "password", "submit", "button"].includes(field.type)) continue;
      if (field.type === "radio" && !field.checked) continue;
      kept[field.name] = drafts.whole(field, field.value);
    }
    try { localStorage.setItem(drafts.key(form), JSON.stringify({ at: Date.now(), kept })); } catch { /* full or shut */ }
    drafts.mark(drafts.key(form), undefined);
  },

  // A bare number keeps the unit it was typed with, should the units change before it is sent.
  whole(field, text) {
    const unit = field && field.dataset ? field.dataset.unit : "";
    return unit && drafts.bare.test(text.trim()) ? text.trim() + unit : text;
  },

  // The unit that stands beside a field need not stand in it.
  shown(field, text) {
    const unit = field.dataset ? field.dataset.unit : "";
    const number = unit && text.endsWith(unit) ? text.slice(0, -unit.length) : text;
    return drafts.bare.test(number) ? number : text;
  },

  restore(form) {
    let draft = null;
    try { draft = JSON.parse(localStorage.getItem(drafts.key(form))); } catch { return; }
    if (!draft || Date.now() - draft.at > 7 * 24 * 3600 * 1000) return;
    let other = false; // than what the server answered to
    for (const field of form.elements) {
      if (!(field.name in draft.kept)) continue;
      const was = [field.value, field.checked];
      if (field.type === "radio") field.checked = field.value === draft.kept[field.name];
      else if (!["hidden", "file"].includes(field.type)) field.value = drafts.shown(field, draft.kept[field.name]);
      if (field.value === was[0] && field.checked === was[1]) continue;
      other = true;
      const fold = field.closest("details");
      if (fold) fold.open = true; // what was typed is seen
    }
    form.dataset.restored = "yes";
    // Where the answer stands beside the form it follows what was typed, and not what was sent before.
    if (other && "follows" in form.dataset) {
      document.addEventListener("DOMContentLoaded", () => form.dispatchEvent(new Event("change", { bubbles: true })));
    }
  },

  // Under which mark a form was sent; none once something else was typed.
  mark(key, mark) {
    try {
      const sent = JSON.parse(localStorage.getItem(SENT)) || {};
      localStorage.setItem(SENT, JSON.stringify({ ...sent, [key]: mark }));
    } catch { /* full or shut */ }
  },

  forget(form) { try { localStorage.removeItem(drafts.key(form)); } catch { /* shut */ } },
};
window.carrybookDrafts = drafts;

function away(is) {
  const notice = document.getElementById("away");
  if (notice) notice.hidden = !is;
}
window.carrybookAway = away;

function ready(root) {
  for (const form of root.querySelectorAll("form[data-draft]")) {
    if (form.dataset.watched) continue;
    form.dataset.watched = "yes";
    drafts.restore(form);
    form.addEventListener("input", () => drafts.save(form));
    form.addEventListener("change", () => drafts.save(form));
  }
}

// What was sent is kept by the server, so the copy here can go; but only once it has arrived.
document.addEventListener("htmx:afterRequest", (event) => {
  const form = event.detail.requestConfig && event.detail.requestConfig.elt;
  if (form instanceof HTMLFormElement && form.dataset.draft && event.detail.successful) drafts.forget(form);
});
document.addEventListener("htmx:load", (event) => ready(event.detail.elt.parentNode || document));
for (const lost of ["htmx:sendError", "htmx:timeout"]) document.addEventListener(lost, () => away(true));
document.addEventListener("htmx:afterOnLoad", () => away(false));

// A form that is sent whole has arrived once a page says so by its mark; the copy here stays until then.
document.addEventListener("submit", (event) => {
  const form = event.target;
  if (!form.dataset || !form.dataset.draft || form.hasAttribute("hx-post") || event.defaultPrevented) return;
  const mark = Array.from(crypto.getRandomValues(new Uint32Array(4)), (word) => word.toString(36)).join("");
  const field = form.elements.sent || form.appendChild(Object.assign(document.createElement("input"), { type: "hidden", name: "sent" }));
  field.value = mark;
  drafts.mark(drafts.key(form), mark);
});
try {
  const arrived = document.getElementById("main").dataset.arrived.split(" ");
  const sent = Object.entries(JSON.parse(localStorage.getItem(SENT)) || {});
  for (const [key, mark] of sent) if (arrived.includes(mark)) localStorage.removeItem(key);
  localStorage.setItem(SENT, JSON.stringify(Object.fromEntries(sent.filter(([, mark]) => !arrived.includes(mark)))));
} catch { /* shut */ }

ready(document);
if ("serviceWorker" in navigator && window.isSecureContext) navigator.serviceWorker.register("/sw.js");
