// The page as a whole: the state, how it changes, and which screen is shown. Every change
// is an event that is on the disk before the screens show it.
import { button, h } from "./dom.js";
import { preset, ready, selfContained, wait } from "./engine.js";
import { watch } from "./locator.js";
import { emptyState, lastStep, openWalk, stateOf, take, theWalk } from "./log.js";
import { alone } from "./alone.js";
import { openStore, persistence } from "./store.js";
import { stamp } from "./clock.js";
import { stopOf } from "./calls.js";
import { measureIn } from "./measure.js";
import { say, speak } from "./words.js";
import { before } from "./screens/before.js";
import { make } from "./screens/make.js";
import { walk } from "./screens/walk.js";
import { count } from "./screens/count.js";
import { noon } from "./screens/noon.js";
import { eye } from "./screens/eye.js";
import { key } from "./screens/key.js";

const screens = { before, make, walk, count, noon, eye, key };

// app is what screens are given.
const app = {
  state: emptyState(), store: null, failed: "", fix: null, trouble: "", unlocated: "", kept: "maybe",
  shown: { name: "", update: null }, walkID: null,
  keep, undo, go, refresh, tell, walk: () => app.walkID && theWalk(app.state, app.walkID),
};

// start shows the first screen at once, and then what is slower to come.
export async function start() {
  speak((navigator.language || "en").slice(0, 2));
  ready.catch(e => { app.failed = e?.message || String(e); });
  try {
    app.store = await openStore();
    app.state = stateOf(await app.store.all());
  } catch (e) {
    app.trouble = say("no-store", { why: e?.message ?? "" });
  }
  if (app.state.settings.language) speak(app.state.settings.language);
  measureIn(app.state.settings.units ?? (/-US$/.test(navigator.language) ? "us" : "metric"));
  await takePreset();
  const open = openWalk(app.state);
  app.walkID = open?.id ?? null;
  addEventListener("popstate", () => show(history.state?.screen ?? "before"));
  const first = open ? (open.open ? "count" : "walk") : "before";
  history.replaceState({ screen: "before" }, "");
  if (open) history.pushState({ screen: first }, "");
  show(first);
  document.documentElement.dataset.ready = "";
  alone(async () => {
    app.state = stateOf(await app.store.all());
    refresh();
  }, () => tell(say("two-tabs")));
  ready.catch(() => {}).then(keepPage);
  app.kept = await persistence();
  if (app.shown.name === "before") app.shown.update?.("kept");
}

// keepPage keeps the page on the phone, once the engine runs, which it would slow down.
// Where that is refused the page needs a connection.
function keepPage() {
  if (!selfContained) navigator.serviceWorker?.register("sw.js").catch(() => {});
}

// takePreset keeps the field and the stops that the page was made with, once.
async function takePreset() {
  const given = preset();
  if (!given || !app.store) return;
  const stops = given.stops.map(stopOf), id = `preset ${given.field.name} ${JSON.stringify(stops)}`;
  if (app.state.fields.has(id)) return;
  const { rule, stage } = given.settings;
  await keep(() => ({ kind: "field", field: id, values: { name: given.field.name, geometry: given.field.boundary, planned: stops, rule, stage } }));
  await keep(() => ({ kind: "set", values: { field: id } }));
}

// Events wait for one another, so that each is on the disk before the next is made.
let queue = Promise.resolve();

// keep stores what make returns, an event or null for none, once all that was asked before
// is stored: make sees the state as it is then. It resolves to the stored event.
function keep(make) {
  const kept = queue.then(async () => {
    const event = make();
    if (!event) return null;
    if (event.step) wait();
    const stored = await app.store.append({ ...event, at: event.at ?? stamp() });
    take(app.state, stored);
    return stored;
  });
  queue = kept.catch(e => tell(say("not-stored", { why: e?.message ?? "" })));
  return queue;
}

// undo takes back the last step of the walk; without one it does nothing.
async function undo() {
  await keep(() => {
    const of = app.walkID && lastStep(app.state, app.walkID);
    return of ? { kind: "undo", walk: app.walkID, of } : null;
  });
  refresh();
}

// go shows another screen, as a step of the browser's history. Walk and Count are one step,
// so that the way back of the phone leads out of both.
function go(name) {
  const walking = n => n === "walk" || n === "count";
  if (walking(name) && walking(app.shown.name)) history.replaceState({ screen: name }, "");
  else history.pushState({ screen: name }, "");
  show(name);
}

function show(name) {
  app.shown.leave?.();
  if ((name === "walk" || name === "count" || name === "noon") && !app.walk()) name = "before";
  if (name === "count" && !app.walk().open) name = "walk";
  const { element, update, leave } = screens[name](app);
  app.shown = { name, update, leave };
  tell(app.store ? "" : app.trouble);
  const main = document.getElementById("screen");
  main.className = name;
  main.replaceChildren(...element.filter(Boolean));
  document.title = main.querySelector("h1").textContent;
  scrollTo(0, 0);
  const head = main.querySelector("h1");
  head.tabIndex = -1;
  head.focus({ preventScroll: true });
}

// refresh shows the state as it is now, in place where the screen can.
function refresh() {
  if (app.shown.name === "count" && !app.walk()?.open) return go("walk");
  if (app.shown.name === "walk" && app.walk()?.open) return go("count");
  if (app.shown.update) app.shown.update();
  else show(app.shown.name);
}

// tell says what is wrong, or nothing.
function tell(words) {
  document.getElementById("alert").textContent = words;
}
