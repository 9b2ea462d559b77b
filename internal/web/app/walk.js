// A walk as its events tell it: the field's planned stops, the visits that were made, and
// the leaf that is counted next.
import { take as countedBy, freshLeaf } from "./count.js";

// walkOf makes a walk from its events, of which the first begins it.
export function walkOf(events) {
  const { walk: id, field, day, observer, protocol, stops, stage } = events[0];
  const walk = { id, field, day, observer, protocol, stage, stops, visits: [], open: null, track: [], ended: false, shared: false, told: 0, last: 0 };
  for (const event of events.slice(1)) step(walk, event);
  return walk;
}

const UNCOUNTED = ["track", "shared", "end"]; // events that leave its counts as they are

// step is what an event does to a walk. Its counts are others where told or last are: events
// are only ever added at the end, and taken back one by one.
export function step(walk, event) {
  if (!UNCOUNTED.includes(event.kind)) Object.assign(walk, { told: walk.told + 1, last: event.n });
  switch (event.kind) {
    case "arrive": return arrive(walk, event);
    case "place": return placed(walk, event);
    case "skip":
      walk.visits.push({ stop: event.stop, skipped: event.why });
      return;
    case "leave":
      if (walk.open) walk.open.left = true;
      walk.open = null;
      return;
    case "track":
      walk.track.push(event.place);
      return;
    case "shared":
      walk.shared = true;
      return;
    case "end":
      walk.ended = true;
      return;
    default:
      if (walk.open) {
        walk.shared = false;
        countedBy(walk.open, event, walk.protocol);
      }
  }
}

function arrive(walk, event) {
  walk.shared = false;
  walk.open = {
    stop: event.stop, extra: Boolean(event.extra), place: event.place, at: event.at, left: false,
    leaves: leavesOf(walk.protocol), seen: {}, note: "", // seen by plant
  };
  walk.visits.push(walk.open);
}

// placed refines the place of a visit, which may be over by then.
function placed(walk, event) {
  const visit = walk.visits.findLast(v => v.stop === event.stop && !v.skipped);
  if (visit) visit.place = event.place;
}

function leavesOf(protocol) {
  const all = [];
  for (let plant = 1; plant <= protocol.plants; plant++)
    for (let leaf = 1; leaf <= protocol.leaves; leaf++) all.push(freshLeaf(plant, leaf));
  return all;
}

// current is the place in the visit's list of the leaf that is counted next, −1 when all are done.
export const current = visit => visit.leaves.findIndex(l => !l.done);

// visitOf is the visit to a planned stop, undefined where none was made.
export const visitOf = (walk, name) => walk.visits.find(v => v.stop === name);

// ahead are the planned stops that were neither visited nor skipped, in their order.
export const ahead = walk => walk.stops.filter(s => !visitOf(walk, s.name));

// counted are the visits with at least one leaf that was looked at.
export const counted = walk => walk.visits.filter(v => !v.skipped && v.leaves.some(l => l.done));

// placeOf is where a visit was, and how that is known: measured, typed, or planned where
// the phone found nothing; null where nobody knows.
export function placeOf(walk, visit) {
  if (visit.place) return visit.place;
  const planned = walk.stops.find(s => s.name === visit.stop);
  return planned ? { longitude: planned.longitude, latitude: planned.latitude, source: "planned" } : null;
}

// isFree says whether a walk has no planned stops: those that are made on it then count as
// planned ones do, in the mean of the field too, but for those whose place the counts chose.
export const isFree = walk => walk.stops.length === 0;

// newName is a name for a stop that was not planned: a number on a free walk, X and a
// number for an extra stop.
export function newName(walk, extra = !isFree(walk)) {
  for (let i = 1; ; i++) {
    const name = extra ? `X${i}` : String(i);
    if (!visitOf(walk, name) && !walk.stops.some(s => s.name === name)) return name;
  }
}
