// Arriving at a stop. Counting begins at once; meanwhile fixes are gathered for 10 to 30 s
// while one stands there, and the place that they agree on is kept with the visit.
import { gather } from "./locator.js";
import { combine } from "./position.js";

const FRESH = 10000; // ms: an older fix of the walk is not where one stands now

let gathering = null;

// status is what the gathering of a stop has come to: {stop, place, busy}; null without one.
export const status = () => gathering && { stop: gathering.stop, place: gathering.place, busy: gathering.busy };

// settle ends a gathering with what it has, and waits until that is stored.
export async function settle() {
  gathering?.end.stop();
  await gathering?.stored;
}

// arriveHere begins a visit where one stands.
export async function arriveHere(app, stop, extra) {
  const fix = app.fix && Date.now() - app.fix.at < FRESH ? measured(combine([app.fix])) : null;
  await arriveAt(app, stop, fix, extra);
  collect(app, stop, fix);
}

// resume gathers fixes for a visit that was begun before the page was shown anew and has
// no place yet.
export function resume(app, visit) {
  if (!visit.place && gathering?.stop !== visit.stop) collect(app, visit.stop, null);
}

function collect(app, stop, fix) {
  const walk = app.walkID;
  const mine = { stop, place: fix, busy: true };
  mine.stored = new Promise(stored => {
    mine.end = gather(fixes => {
      mine.place = measured(combine(fixes)) ?? mine.place;
      app.refreshPlace?.();
    }, async fixes => {
      mine.busy = false;
      const place = measured(combine(fixes));
      if (place) await app.keep(() => ({ kind: "place", walk, stop, place }));
      app.refreshPlace?.();
      stored();
    });
  });
  gathering = mine;
}

// arriveAt begins a visit at a place that was not measured here, or at none yet.
export function arriveAt(app, stop, place, extra) {
  gathering = null;
  return app.keep(() => ({ kind: "arrive", walk: app.walkID, stop, extra, place, step: true }));
}

const measured = place => place && { ...place, source: "measured" };
