// Shows rooms as they were last seen while the server is away. Changes are never kept here.
"use strict";
const SHELL = "shell-6";
const SEEN = "seen-1";
const FILES = ["/static/page.css", "/static/page.js", "/static/keys.js", "/static/shot.js", "/static/nudges.js", "/static/queue.js", "/static/range.js", "/static/practise.js", "/static/after.js", "/static/drag.js", "/static/green.js", "/static/sketch.js", "/static/htmx.min.js", "/static/icon-192.png", "/static/icon-512.png", "/manifest.webmanifest", "/offline"];
const PLANNING = ["/today", "/shot", "/range", "/practise", "/book", "/more", "/leave", "/ground", "/before", "/after"];

self.addEventListener("install", (event) => {
  event.waitUntil(caches.open(SHELL).then((cache) => cache.addAll(FILES)).then(() => self.skipWaiting()));
});
self.addEventListener("activate", (event) => {
  const old = (names) => names.filter((name) => name !== SHELL && name !== SEEN);
  event.waitUntil(caches.keys().then((names) => Promise.all(old(names).map((n) => caches.delete(n)))).then(() => self.clients.claim()));
});

async function fresh(request) {
  const url = new URL(request.url);
  try {
    const answer = await fetch(request);
    const keep = url.pathname.startsWith("/static/") ? SHELL : PLANNING.includes(url.pathname) ? SEEN : null;
    if (keep && answer.ok && !answer.redirected) (await caches.open(keep)).put(request, answer.clone());
    return answer;
  } catch (error) {
    const seen = await caches.match(request, { ignoreSearch: url.pathname.startsWith("/static/"), ignoreVary: true });
    if (seen) return seen;
    if (request.mode === "navigate") {
      const room = await caches.match(url.pathname, { ignoreSearch: true, ignoreVary: true });
      return room || (await caches.match("/offline", { ignoreVary: true })) || Response.error();
    }
    return Response.error();
  }
}
self.addEventListener("fetch", (event) => {
  const ours = new URL(event.request.url).origin === self.location.origin;
  if (ours && event.request.method === "GET" && event.request.headers.get("hx-request") !== "true") event.respondWith(fresh(event.request));
});
