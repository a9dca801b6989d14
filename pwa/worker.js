// The service worker: keeps one complete copy of the app for each version and answers from it.
//
// Rules, each learnt from what goes wrong otherwise:
// - install waits until every file is stored; if one fails, the version in use stays in charge.
// - a new version waits until the person asks for it ("activate-now"): pages are never swapped
//   underneath an entry.
// - every page address is answered with the one stored page, that of the app's root; the app itself reads the address.
// - what only the server can tell, its state and the shop's data, is never answered from here: not
//   from a copy, and not with the page.
// - only our own caches are removed; other caches of the origin are not ours to judge.
"use strict";

// The app's own folder on its host: "/", or that of an exported site. Two sites of one host keep apart.
const home = new URL(self.registration.scope).pathname;
const prefix = home === "/" ? "torchside-" : `torchside${home}-`;
const cacheName = prefix + "{{.Version}}";
const precached = {{.ResourcesToCache}};
const serverOnly = ["/api/", "/ca/", "/healthz/", "/metrics/"];

self.addEventListener("install", (event) => {
  event.waitUntil(storeAll());
});

async function storeAll() {
  const cache = await caches.open(cacheName);
  // "no-cache" asks the server again, so an older copy in the browser's own cache cannot slip in.
  await Promise.all(precached.map((address) => store(cache, address)));
}

async function store(cache, address) {
  const response = await fetch(new Request(address, { cache: "no-cache" }));
  if (!response.ok) throw new Error(`${address}: the answer was ${response.status}`);
  // A static host sends "/emergency" on to "/emergency/". Browsers refuse a page made of such an answer; a copy does not tell.
  await cache.put(address, response.redirected ? new Response(response.body, { headers: response.headers }) : response);
}

self.addEventListener("activate", (event) => {
  event.waitUntil(removeOldVersions().then(() => self.clients.claim()));
});

async function removeOldVersions() {
  const names = await caches.keys();
  const old = names.filter((name) => name.startsWith(prefix) && name !== cacheName);
  await Promise.all(old.map((name) => caches.delete(name)));
}

self.addEventListener("message", (event) => {
  if (event.data === "activate-now") {
    event.waitUntil(self.skipWaiting());
  }
});

self.addEventListener("fetch", (event) => {
  const request = event.request;
  const url = new URL(request.url);
  const ours = request.method === "GET" && url.origin === self.location.origin && url.pathname.startsWith(home);
  const own = url.pathname.slice(home.length - 1);
  if (ours && !serverOnly.some((start) => (own + "/").startsWith(start))) {
    event.respondWith(answer(request, url));
  }
});

async function answer(request, url) {
  const path = url.pathname === home ? home : url.pathname.replace(/\/$/, ""); // a static host adds the slash
  const isPage = request.mode === "navigate" && !precached.includes(path);
  const stored = await caches.match(isPage ? home : path, { cacheName, ignoreVary: true });
  return stored ?? fetch(request);
}
