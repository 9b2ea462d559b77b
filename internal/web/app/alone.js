// One tab at a time: a second one does not see what the first counts.

const LOCK = "geocoris-walk", PATIENCE = 1500; // ms: a page that is shown anew waits for the old one to go

// alone calls other() where another tab has the page open, and mine() when it is gone.
export function alone(mine, other) {
  let gaveUp = false;
  const late = setTimeout(() => { gaveUp = true; other(); }, PATIENCE);
  const held = () => {
    clearTimeout(late);
    if (gaveUp) mine();
    return new Promise(() => {}); // until the tab is closed
  };
  if (!navigator.locks) return clearTimeout(late);
  navigator.locks.request(LOCK, held).catch(() => clearTimeout(late)); // files of some browsers have no locks
}
