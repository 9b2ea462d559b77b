// The engine, away from the screen: it begins with its bytes and answers one call after
// the other. What Go needs of a browser stands in front of this file.
"use strict";

let started = null;

onmessage = async ({ data }) => {
  if (data.wasm) {
    started = start(data.wasm);
    started.then(version => postMessage({ version }), fault => postMessage({ failed: String(fault) }));
    return;
  }
  try {
    await started;
  } catch {
    return; // it was said
  }
  const reply = globalThis.geocoris.call(data.request, data.files);
  postMessage({ id: data.id, json: reply.json, files: reply.files }, reply.files.map(f => f.buffer));
};

async function start(wasm) {
  const bytes = await plain(typeof wasm === "string" ? Uint8Array.from(atob(wasm), c => c.charCodeAt(0)) : new Uint8Array(wasm));
  const go = new Go();
  const { instance } = await WebAssembly.instantiate(bytes, go.importObject);
  go.run(instance); // which waits for calls and never ends
  return globalThis.geocoris.version;
}

// plain takes gzip off, where the host has not done so.
async function plain(bytes) {
  if (bytes[0] !== 0x1f || bytes[1] !== 0x8b) return bytes;
  return new Response(new Blob([bytes]).stream().pipeThrough(new DecompressionStream("gzip"))).arrayBuffer();
}
