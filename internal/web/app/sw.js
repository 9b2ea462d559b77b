// Keeps the page on the phone, so that it works without a connection. The two constants
// are put in front when the folder is made: kept, the name of this state, and files.
"use strict";

// The engine is kept unpacked and as what it is: a browser then keeps with it what it has
// compiled, and begins with that the next time.
const ENGINE = "engine.bin", PROGRAM = { "Content-Type": "application/wasm" };

self.addEventListener("install", e => {
  e.waitUntil(caches.open(kept).then(c => Promise.all(files.map(f => keep(c, f)))));
  past(e);
});

// past lets a browser that can take the files without waking this worker first.
async function past(e) {
  try {
    await e.addRoutes?.(files.map(f => ({ condition: { requestMethod: "GET", urlPattern: new URLPattern({ pathname: new URL(f, location).pathname, search: "" }) }, source: { cacheName: kept } })));
  } catch { // a folder whose name is a pattern
  }
}

// keep asks the host whether what the page has loaded is still good, so that nothing comes twice.
async function keep(cache, file) {
  const response = await fetch(file, { cache: "no-cache" });
  if (!response.ok) throw new Error(`${file}: ${response.status}`);
  return cache.put(file, file === ENGINE ? await unpacked(response) : response);
}

async function unpacked(response) {
  if (!globalThis.DecompressionStream) return response; // the walk can be counted all the same
  const packed = await response.blob(), first = new Uint8Array(await packed.slice(0, 1).arrayBuffer());
  return new Response(first[0] === 0x1f ? packed.stream().pipeThrough(new DecompressionStream("gzip")) : packed, { headers: PROGRAM }); // a program begins with 0
}

self.addEventListener("activate", e => {
  e.waitUntil(caches.keys()
    .then(all => Promise.all(all.filter(name => name.startsWith("geocoris-") && name !== kept).map(name => caches.delete(name))))
    .then(() => self.clients.claim()));
});

self.addEventListener("fetch", e => {
  if (e.request.method !== "GET") return;
  e.respondWith(caches.open(kept).then(c => c.match(e.request, { ignoreSearch: true })).then(found => found ?? fetch(e.request)));
});
