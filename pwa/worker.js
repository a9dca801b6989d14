// The service worker: keeps one complete copy of the app for each version and answers from it.
//
// Rules, each learnt from what goes wrong otherwise:
// - install waits until every file is stored; if one fails, the version in use stays in charge.
// - a new version waits until the person asks for it ("activate-now"): pages are never swapped
//   underneath an entry.
// - every page address is answered with the one stored page "/"; the app itself reads the address.
// - what only the server can tell, its state and the shop's data, is never answered from here: not
//   from a copy, and not with the page.
// - only our own caches are removed; other caches of the origin are not ours to judge.
"use strict";

const prefix = "torchside-";
const cacheName = prefix + "{{.Version}}";
const precached = {{.ResourcesToCache}};
const serverOnly = ["/api/", "/ca/", "/healthz/", "/metrics/"];

self.addEventListener("install", (event) => {
  event.waitUntil(storeAll());
});

async function storeAll() {
  const cache = await caches.open(cacheName);
  // "no-cache" asks the server again, so an older copy in the browser's own cache cannot slip in.
  await cache.addAll(precached.map((address) => new Request(address, { cache: "no-cache" })));
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
  const ours = request.method === "GET" && url.origin === self.location.origin;
  if (ours && !serverOnly.some((start) => (url.pathname + "/").startsWith(start))) {
    event.respondWith(answer(request, url));
  }
});

async function answer(request, url) {
  const isPage = request.mode === "navigate" && !precached.includes(url.pathname);
  const stored = await caches.match(isPage ? "/" : url.pathname, { cacheName, ignoreVary: true });
  return stored ?? fetch(request);
}
