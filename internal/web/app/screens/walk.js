// Walk: the map with one's own place, the way to the next stop, and what to do there.
import { arriveAt, arriveHere } from "../arrival.js";
import { bandOf, bandPart } from "../band.js";
import { button, h, s } from "../dom.js";
import { watch } from "../locator.js";
import { fieldMap } from "../map.js";
import { length, reach } from "../measure.js";
import { parsePlace, quarter, way } from "../position.js";
import { stayAwake } from "../wake.js";
import { ahead, counted, isFree, newName, placeOf, visitOf } from "../walk.js";
import { say } from "../words.js";

const TRACK = 20; // metres between the points of the track that are kept

export function walk(app) {
  const w = app.walk(), field = app.state.fields.get(w.field);
  stayAwake(true);
  const next = nextOf(app, w), tells = next ? null : tellsMost(app, w), goal = next ?? tells;
  const drawn = fieldMap({
    geometry: field.geometry, stops: [...stopsOf(w, next), ...(tells ? [tells] : [])], track: w.track, week: field.week ?? [], here: app.fix,
    label: say("map-label", { n: counted(w).length, all: Math.max(w.stops.length, counted(w).length) }),
  });
  const line = h("p", { class: "way", id: "way" });
  const toldWay = () => line.replaceChildren(...wayWords(app, goal));
  const end = watch(fix => {
    app.fix = fix;
    app.unlocated = "";
    drawn.move(fix);
    toldWay();
    keepTrack(app, fix);
  }, why => {
    app.unlocated = why;
    toldWay();
  });
  toldWay();
  const extra = !next && (!isFree(w) || Boolean(tells?.extra)), name = next?.name ?? newName(w, extra), enough = bandOf(app, w)?.state === "enough";
  const element = [
    h("header", {}, h("h1", {}, next ? say("walk-to", { stop: next.name }) : tells ? say("walk-tells") : w.stops.length ? say("all-visited") : say("no-planned")),
      h("p", { class: "quiet" }, say("progress", { n: counted(w).length, all: Math.max(w.stops.length, counted(w).length) }))),
    bandPart(app), drawn.svg, line, tells?.extra ? h("p", { class: "quiet", id: "counts-extra" }, say("counts-extra")) : null,
    h("div", { class: "thumb" }, enough ? toNoon(app, "main wide") : null,
      button(say("here"), async () => { await arriveHere(app, name, extra); app.refresh(); }, { class: enough ? "wide" : "main wide", id: "here" }),
      next ? button(say("planned-here"), async () => { await arriveAt(app, name, { longitude: next.longitude, latitude: next.latitude, source: "planned" }, false); app.refresh(); }, { class: "wide", id: "planned" }) : null),
    otherWays(app, w, next, extra),
    h("div", { class: "stack" }, enough ? null : toNoon(app, ""), button(say("undo"), () => app.undo(), { id: "undo" })),
  ];
  return { element, leave: () => { end(); stayAwake(false); } };
}

// toNoon leads to the answer: the main thing to do once there is enough.
const toNoon = (app, look) => button(say("to-noon"), () => app.go("noon"), { id: "noon", class: look || null });

// nextOf is the stop to walk to: the one that was chosen, else the first ahead.
function nextOf(app, w) {
  const left = ahead(w);
  return left.find(stop => stop.name === app.chosen) ?? left[0] ?? null;
}

// tellsMost is where a further stop would settle most, as the engine found it; null where
// it names no place.
function tellsMost(app, w) {
  const place = bandOf(app, w)?.next;
  return place ? { name: newName(w, place.extra || !isFree(w)), longitude: place.at[0], latitude: place.at[1], extra: place.extra, state: "next" } : null;
}

// stopsOf are the stops as the map shows them: planned ones and extra ones.
function stopsOf(w, next) {
  const planned = w.stops.map(stop => {
    const visit = visitOf(w, stop.name);
    return { ...stop, state: visit?.skipped ? "skipped" : visit ? "done" : stop === next ? "next" : "ahead" };
  });
  const extra = w.visits.filter(v => !v.skipped && !w.stops.some(s => s.name === v.stop) && placeOf(w, v)).map(v => ({ name: v.stop, ...placeOf(w, v), state: "done" }));
  return [...planned, ...extra];
}

// wayWords are the distance to the next stop, an arrow, and how sure the position is.
function wayWords(app, next) {
  if (!app.fix) return [h("span", { class: app.unlocated ? "wrong" : "" }, app.unlocated ? say("no-position") : say("looking"))];
  const sure = h("span", { class: "quiet" }, say("within", { metres: reach(app.fix.accuracy) }));
  if (!next) return [sure];
  const { metres, bearing } = way(app.fix, next);
  return [arrow(bearing), h("strong", {}, say("distance", { distance: length(metres), wind: say(`wind-${quarter(bearing)}`) })), " ", sure];
}

// arrow points on the map, north up.
const arrow = bearing => s("svg", { viewBox: "-12 -12 24 24", class: "arrow", "aria-hidden": "true" }, s("path", { d: "M0-10L8 9L0 4L-8 9Z", transform: `rotate(${Math.round(bearing)})` }));

// keepTrack keeps a fix for the walked line where it is away from the last.
function keepTrack(app, fix) {
  app.keep(() => {
    const last = app.walk()?.track.at(-1);
    if (!app.walk() || last && way(last, fix).metres < Math.max(TRACK, fix.accuracy)) return null;
    return { kind: "track", walk: app.walkID, place: { longitude: fix.longitude, latitude: fix.latitude } };
  });
}

// otherWays are what one does when it is not "I am here".
function otherWays(app, w, next, extra) {
  const pasted = h("input", { type: "text", id: "pasted", autocomplete: "off", placeholder: "35.9001, -101.6003" });
  const wrong = h("p", { class: "wrong", role: "alert" });
  const usePasted = async () => {
    const place = parsePlace(pasted.value);
    if (!place) {
      wrong.textContent = say("paste-wrong");
      return pasted.focus();
    }
    await arriveAt(app, next?.name ?? newName(w, extra), { ...place, source: "typed" }, extra);
    app.refresh();
  };
  const why = h("select", { id: "why" }, ["wet", "crop", "reach", "sprayed", "other"].map(k => h("option", { value: k }, say(`skip-${k}`))));
  const skip = async () => {
    await app.keep(() => ({ kind: "skip", walk: app.walkID, stop: next.name, why: why.value, step: true }));
    app.refresh();
  };
  const choose = h("select", { id: "choose", onchange: e => { app.chosen = e.target.value; app.refresh(); } }, ahead(w).map(stop => h("option", { value: stop.name }, say("at-stop", { stop: stop.name }))));
  if (next) choose.value = next.name;
  return h("details", {}, h("summary", {}, say("other-ways")), h("div", { class: "stack" },
    next ? h("label", { class: "control" }, h("span", {}, say("choose-stop")), choose) : null,
    isFree(w) ? (extra ? button(say("ordinary"), async () => { await arriveHere(app, newName(w), false); app.refresh(); }, { id: "ordinary" }) : null) : button(say("extra"), async () => { await arriveHere(app, newName(w), true); app.refresh(); }, { id: "extra" }),
    next ? h("label", { class: "control" }, h("span", {}, `${say("skip")}: ${say("why-skip").toLowerCase()}`), why) : null,
    next ? button(say("skip"), skip, { id: "skip" }) : null,
    h("label", { class: "control" }, h("span", {}, `${say("paste")}: ${say("paste-label").toLowerCase()}`), pasted), wrong,
    button(say("paste-use"), usePasted, { id: "use-pasted" }),
    button(say("back-before"), () => app.go("before"), { id: "fields" }),
    button(say("end-walk"), async () => { await app.keep(() => ({ kind: "end", walk: app.walkID })); app.go("before"); }, { id: "end" })));
}
