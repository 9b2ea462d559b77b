// The screen stays on while one walks and counts, where the phone lets a page ask for it.

let lock = null, wanted = false;

// stayAwake asks for it, and again whenever the page comes back to the front.
export function stayAwake(on) {
  wanted = on;
  if (on) ask();
  else release();
}

async function ask() {
  if (lock || document.visibilityState !== "visible") return;
  try {
    lock = await navigator.wakeLock?.request("screen") ?? null;
    lock?.addEventListener("release", () => { lock = null; });
    if (!wanted) release();
  } catch { // refused, as with a battery near empty: the walk goes on
    lock = null;
  }
}

function release() {
  lock?.release();
  lock = null;
}

document.addEventListener("visibilitychange", () => { if (wanted) ask(); });
