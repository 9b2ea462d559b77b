// The engine as the page calls it. It runs in a worker, is loaded while the first screen
// shows, and knows nothing of the page.
import { code } from "./code.js";

// inside is what a page that is one file has in it, by the name of its element.
const inside = id => document.getElementById(id)?.textContent ?? null;

// selfContained tells a page of one file, which has all in it, from one of a folder. The
// preset is there before the engine, which is much longer.
export const selfContained = inside("preset") !== null;

// preset is the field and the walk that the page was made with; null for none.
export function preset() {
  return JSON.parse(inside("preset") ?? "null");
}

const waiting = new Map(); // of calls, what settles them
let worker = null, last = 0, settle;

// held is how many bytes of memory the engine had when it answered last.
export let held = 0;

// ready is the version of the engine, once it runs.
export const ready = new Promise((resolve, reject) => { settle = { resolve, reject }; });
ready.catch(() => {}); // each call says so

if (!("served" in document.documentElement.dataset)) begin().catch(failed); // a server has an engine of its own

async function begin() {
  worker = new Worker(URL.createObjectURL(new Blob([code], { type: "text/javascript" })));
  worker.onmessage = ({ data }) => hear(data);
  worker.onerror = e => failed(e.message || "the engine stopped");
  if (selfContained) await whole();
  worker.postMessage({ begin: selfContained ? { text: inside("engine") } : { from: new URL("engine.bin", document.baseURI).href } });
}

// whole waits until all of the page is read.
function whole() {
  return new Promise(done => document.readyState === "loading" ? addEventListener("DOMContentLoaded", done) : done());
}

function hear(data) {
  if (data.version) return settle.resolve(data.version);
  if (data.failed) return failed(data.failed);
  held = data.held;
  const reply = JSON.parse(data.json);
  waiting.get(data.id)?.resolve({ ...reply, files: reply.files.map((f, i) => ({ ...f, bytes: data.files[i] })) });
  waiting.delete(data.id);
}

function failed(why) {
  const fault = new Error(`The engine could not be started: ${why?.message ?? why}`);
  settle.reject(fault);
  for (const { reject } of waiting.values()) reject(fault);
  waiting.clear();
}

// wait lets the engine not be warmed for a while: what is tapped goes before.
export const wait = () => worker?.postMessage({ wait: true });

// call asks the engine. Files come and go as { role, name, bytes }, bytes of a text too.
// What goes wrong with a request is the reply's error; it rejects only where there is no
// engine.
export async function call(what, settings = {}, files = []) {
  await ready;
  const id = ++last;
  const request = JSON.stringify({ do: what, settings, files: files.map(({ role, name }) => ({ role, name })) });
  const bytes = files.map(f => typeof f.bytes === "string" ? new TextEncoder().encode(f.bytes) : f.bytes);
  return new Promise((resolve, reject) => {
    waiting.set(id, { resolve, reject });
    worker.postMessage({ id, request, files: bytes });
  });
}
