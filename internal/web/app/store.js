// The store keeps events in the order in which they were made, and nothing else. What
// stands on the screens is made from them anew (log.js), so that a crash loses nothing
// that was kept, and an undo is one more event.

const EVENTS = "events";

let opened = null;

// openStore is the store, which early.js has begun to open.
export const openStore = () => opened ??= open();

openStore().catch(() => {}); // who asks for it is told

async function open() {
  const db = await globalThis.opening;
  return { all: () => settled(db.transaction(EVENTS).objectStore(EVENTS).getAll()), append: event => append(db, event) };
}

// append keeps an event and gives it back with its number once it is on the disk, which
// is what "strict" waits for: a browser may otherwise say so before.
function append(db, event) {
  return new Promise((kept, lost) => {
    const change = db.transaction(EVENTS, "readwrite", { durability: "strict" });
    const asked = change.objectStore(EVENTS).add(event);
    change.oncomplete = () => kept({ ...event, n: asked.result });
    change.onabort = () => lost(change.error);
  });
}

function settled(request) {
  return new Promise((done, failed) => {
    request.onsuccess = () => done(request.result);
    request.onerror = () => failed(request.error);
  });
}

// persistence asks the browser to keep what is stored when room gets short: "kept", or
// "maybe" where it does not promise that.
export async function persistence() {
  try {
    return await navigator.storage.persist() ? "kept" : "maybe";
  } catch {
    return "maybe";
  }
}
