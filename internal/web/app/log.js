// The log makes the state from events: settings, fields and walks. It is the same however
// often it is made, and the same from the events of one morning as event by event.
import { step, walkOf } from "./walk.js";

// emptyState is that of a phone on which nothing was done yet.
export const emptyState = () => ({ settings: {}, fields: new Map(), walks: new Map(), draft: freshDraft("walk"), pairs: [] });

// freshDraft is a boundary of which no point was taken yet, made in a way: walk, corners or
// pivot. walking is whether the edge is being walked.
const freshDraft = way => ({ way, points: [], walking: false });

// take puts one event more into a state, and returns it.
export function take(state, event) {
  switch (event.kind) {
    case "set":
      Object.assign(state.settings, event.values);
      return state;
    case "field":
      if (event.values.made) state.draft = freshDraft("walk");
      state.fields.set(event.field, { ...state.fields.get(event.field), id: event.field, ...event.values });
      return state;
    case "pair":
      state.pairs.push(event.pair);
      return state;
    case "draft":
      state.draft = freshDraft(event.way);
      return state;
    case "draft-point":
      state.draft.points.push(event.place);
      state.draft.walking ||= event.walking;
      return state;
    case "draft-back":
      state.draft.points.pop();
      return state;
    case "field-gone":
      state.fields.get(event.field).gone = true; // walks of it stay
      return state;
    case "walk":
      state.walks.set(event.walk, { events: [event], undone: new Set() });
      break;
  }
  const kept = state.walks.get(event.walk);
  if (!kept) return state;
  if (event.kind === "undo") {
    kept.undone.add(event.of);
    kept.walk = null; // made anew when it is asked for
  } else if (event.kind !== "walk") {
    kept.events.push(event);
    if (kept.walk) step(kept.walk, event); // a tap takes as long at the end of a long walk as at its begin
  }
  return state;
}

// stateOf is the state after all events.
export const stateOf = events => events.reduce(take, emptyState());

// theWalk is a walk as it stands; null where there is none of this name.
export function theWalk(state, id) {
  const kept = state.walks.get(id);
  if (!kept) return null;
  kept.walk ??= walkOf(kept.events.filter(e => !kept.undone.has(e.n)));
  return kept.walk;
}

// fieldsOf are the fields that are kept.
export const fieldsOf = state => [...state.fields.values()].filter(f => !f.gone);

// lastStep is the number of the event that an undo takes back, null for none.
export function lastStep(state, id) {
  const kept = state.walks.get(id);
  const left = kept?.events.filter(e => e.step && !kept.undone.has(e.n)) ?? [];
  return left.length ? left.at(-1).n : null;
}

// openWalk is the newest walk that was not ended, null for none.
export function openWalk(state) {
  for (const id of [...state.walks.keys()].reverse()) {
    const walk = theWalk(state, id);
    if (!walk.ended) return walk;
  }
  return null;
}
