// Keeps the page on the phone, so that it works without a connection. The two constants
// are put in front when the folder is made: kept, the name of this state, and files.
"use strict";

self.addEventListener("install", e => {
  e.waitUntil(caches.open(kept).then(c => c.addAll(files.map(f => new Request(f, { cache: "reload" })))));
});

self.addEventListener("activate", e => {
  e.waitUntil(caches.keys()
    .then(all => Promise.all(all.filter(name => name.startsWith("geocoris-") && name !== kept).map(name => caches.delete(name))))
    .then(() => self.clients.claim()));
});

self.addEventListener("fetch", e => {
  if (e.request.method !== "GET") return;
  e.respondWith(caches.open(kept).then(c => c.match(e.request, { ignoreSearch: true })).then(found => found ?? fetch(e.request)));
});
