// The engine, away from the screen: it begins with its bytes and answers one call after
// the other. What Go needs of a browser stands in front of this file.
"use strict";

let started = null, memory = null;

onmessage = async ({ data }) => {
  if (data.begin) {
    started = start(data.begin);
    started.then(version => { postMessage({ version }); warmLater(); }, fault => postMessage({ failed: fault?.message || String(fault) }));
    return;
  }
  if (data.wait) return warmLater(TAPPED);
  try {
    await started;
  } catch {
    return; // it was said
  }
  const reply = globalThis.geocoris.call(data.request, data.files);
  postMessage({ id: data.id, json: reply.json, files: reply.files, held: memory.buffer.byteLength }, reply.files.map(f => f.buffer));
  warmLater();
};

const IDLE = 250, TAPPED = 1500; // ms without a call, and without a tap

let more = true, idle = null, untapped = 0;

// warmLater runs what the walk will ask for beforehand, one thing after the other, while
// nobody asks and nobody taps: the browser compiles what runs for the first time, which
// takes processors from the page.
function warmLater(tapped = 0) {
  if (tapped) untapped = performance.now() + tapped;
  clearTimeout(idle);
  if (more && globalThis.geocoris) idle = setTimeout(() => { more = globalThis.geocoris.warm(); warmLater(); }, Math.max(IDLE, untapped - performance.now()));
}

// start runs the engine, which waits for calls and never ends.
async function start(given) {
  const go = new Go();
  const program = await compiled(given.from ? await fetched(given.from) : programOf(await plain(decoded(given.text))), go.importObject);
  memory = program.exports.mem;
  go.run(program);
  return globalThis.geocoris.version;
}

// compiled is the program of a response. It is compiled while it comes.
async function compiled(response, imports) {
  const { instance } = WebAssembly.instantiateStreaming ? await WebAssembly.instantiateStreaming(response, imports) : await WebAssembly.instantiate(await response.arrayBuffer(), imports);
  return instance;
}

const TYPE = "application/wasm";

const programOf = stream => new Response(stream, { headers: { "Content-Type": TYPE } });

// fetched is the engine as the phone keeps it, with what the browser has compiled of it
// before, or as it comes from the host.
async function fetched(address) {
  const response = await fetch(address);
  if (!response.ok) throw new Error(`${address.split("/").pop()}: ${response.status}`);
  return response.headers.get("Content-Type") === TYPE ? response : programOf(await plain(response.body));
}

const PIECE = 1 << 18; // characters of base64, of which four are three bytes

// decoded are the bytes of a text in base64, piece after piece.
function decoded(text) {
  let at = 0;
  return new ReadableStream({
    pull(into) {
      if (at >= text.length) return into.close();
      into.enqueue(bytesOf(text.slice(at, at + PIECE)));
      at += PIECE;
    },
  });
}

function bytesOf(text) {
  if (Uint8Array.fromBase64) return Uint8Array.fromBase64(text);
  const binary = atob(text), bytes = new Uint8Array(binary.length);
  for (let i = 0; i < bytes.length; i++) bytes[i] = binary.charCodeAt(i);
  return bytes;
}

// plain takes gzip off a stream, where the host has not done so.
async function plain(stream) {
  const reader = stream.getReader(), { value: first } = await reader.read();
  const whole = new ReadableStream({
    start: into => into.enqueue(first),
    async pull(into) {
      const { done, value } = await reader.read();
      if (done) into.close();
      else into.enqueue(value);
    },
  });
  return first[0] === 0x1f ? whole.pipeThrough(new DecompressionStream("gzip")) : whole; // a program begins with 0
}
