// Count: leaf after leaf at one stop. The keys stay in place while figures change, so that
// a fast thumb always meets the key that it saw.
import { resume, settle, status } from "../arrival.js";
import { CLASSES, FEW, GROUPS, OFFERED, classWords, leafName, tally } from "../count.js";
import { button, h } from "../dom.js";
import { reach } from "../measure.js";
import { drawingOf, questionOf } from "../protocol.js";
import { stayAwake } from "../wake.js";
import { current, placeOf } from "../walk.js";
import { number, say } from "../words.js";

export function count(app) {
  const protocol = app.walk().protocol;
  stayAwake(true);
  resume(app, app.walk().open);
  const head = h("h1"), where = h("p", { class: "leaf" }), before = h("p", { class: "quiet", id: "before" });
  const figure = h("output", { class: "figure asked", "aria-live": "polite" }), place = h("p", { class: "quiet", role: "status", id: "place" });
  const drawn = h("div", { class: "drawn" });
  const pads = { first: protocol.ask === "count" ? firstPad(app) : answerPad(app), groups: groupPad(app), classes: classPad(app), done: donePart(app) };
  const undo = button(say("undo"), () => app.undo(), { class: "undo", id: "undo" });
  const seen = seenPart(app);

  let of = null; // what is drawn
  const draw = (marked, stage) => {
    if (of === String(marked)) return;
    of = String(marked);
    drawn.replaceChildren(...[marked && drawingOf(protocol, stage, marked)].filter(Boolean));
  };
  const update = () => {
    const walk = app.walk(), visit = walk.open, at = current(visit), leaf = visit.leaves[at];
    const mode = !leaf ? "done" : leaf.guess === "class" ? "classes" : leaf.guess || leaf.count ? "groups" : "first";
    head.textContent = leaf ? say("at-stop", { stop: visit.stop }) : say("stop-done", { stop: visit.stop });
    draw(leaf ? markedOf(leaf, protocol) : null, walk.stage);
    where.textContent = leaf ? nameOf(leaf, protocol) : sumOf(visit, protocol);
    figure.hidden = mode !== "groups";
    figure.textContent = leaf ? say("on-leaf", { n: number(leaf.count) }) : "";
    const last = visit.leaves[(at < 0 ? visit.leaves.length : at) - 1];
    before.textContent = last ? say("before-that", { what: `${nameOf(last, protocol)}, ${foundOn(last, protocol)}` }) : "";
    for (const [name, pad] of Object.entries(pads)) pad.element.hidden = name !== mode;
    if (mode !== "done") pads[mode].update?.(leaf, protocol, visit);
    seen.update(leaf ?? last);
    place.textContent = placeWords(walk, visit);
  };
  app.refreshPlace = () => { if (app.walk()?.open) place.textContent = placeWords(app.walk(), app.walk().open); };
  update();
  const element = [h("header", {}, h("div", {}, head, where, before), drawn), figure,
    pads.first.element, pads.groups.element, pads.classes.element, pads.done.element,
    h("div", { class: "row" }, undo), place, seen.element];
  return { element, update, leave: () => { stayAwake(false); app.refreshPlace = null; } };
}

// tap keeps an event on the leaf that is counted when its turn comes.
async function tap(app, event) {
  await app.keep(() => {
    const visit = app.walk()?.open, leaf = visit?.leaves[current(visit)];
    return leaf ? { ...event, walk: app.walkID, plant: leaf.plant, leaf: leaf.leaf, step: true } : null;
  });
  app.refresh();
}

// firstPad is for a leaf that was not counted yet: none and few are entered with one tap, more
// are counted by groups.
function firstPad(app) {
  const few = FEW.map(n => button(String(n), () => tap(app, { kind: "tell", count: n }), { "data-tell": n, "aria-label": say("so-many", { n }) }));
  const element = h("section", { "aria-label": say("first-look") }, h("h2", { class: "asked" }, say("first-look")),
    h("div", { class: "pad" }, button(say("none"), () => tap(app, { kind: "tell", count: 0 }), { class: "main wide", "data-tell": 0 }), few,
      h("div", { class: "trio" }, [...Object.keys(OFFERED), "class"].map(size => button(say(size), () => tap(app, { kind: "guess", size }), { "data-guess": size })))));
  return { element };
}

// groupPad counts on by groups. Keys never change places: those that the first look
// offers stand out.
function groupPad(app) {
  const keys = GROUPS.map(n => button(`+${n}`, () => tap(app, { kind: "tap", add: n }), { "data-add": n }));
  const next = button("", () => tap(app, { kind: "next" }), { class: "main wide", id: "next" });
  const element = h("section", { "aria-label": say("add") }, h("div", { class: "pad" }, keys, next));
  const update = (leaf, protocol) => {
    const offered = OFFERED[leaf.guess] ?? OFFERED.tens;
    for (const key of keys) key.classList.toggle("first", offered.includes(Number(key.dataset.add)));
    next.textContent = protocol.leaves > 1 ? say("next-leaf") : say("next-plant");
    next.disabled = leaf.count === 0;
  };
  return { element, update };
}

// classPad takes the class of a leaf that is not counted through.
function classPad(app) {
  const key = range => button(range[1] === null && range !== CLASSES.at(-1) ? `${range[0]}+` : classSaid(range), () => tap(app, { kind: "class", range }),
    { "data-class": classWords(range), "aria-label": classSaid(range), class: range === CLASSES.at(-1) ? "wide" : null });
  return { element: h("section", {}, h("h2", { class: "asked" }, say("which-class")), h("div", { class: "pad classes" }, CLASSES.map(key))) };
}

const classSaid = ([low, high]) => high === null ? say("or-more", { n: number(low) }) : `${number(low)}–${number(high)}`;

// answerPad asks a plant for yes or no.
function answerPad(app) {
  const words = h("h2", { class: "asked" }), answer = over => () => tap(app, { kind: "answer", over });
  const element = h("section", {}, words,
    h("div", { class: "pad two" }, button(say("no"), answer(false), { "data-answer": "no" }), button(say("yes"), answer(true), { "data-answer": "yes" })));
  return { element, update: (leaf, protocol) => { words.textContent = questionOf(protocol); } };
}

// donePart ends the visit.
function donePart(app) {
  return { element: h("section", {}, h("div", { class: "pad" }, button(say("walk-on"), () => leave(app), { class: "main wide", id: "leave" }))) };
}

async function leave(app) {
  await settle();
  await app.keep(() => ({ kind: "leave", walk: app.walkID, step: true }));
  app.refresh();
}

// seenPart notes what else is on the plant, on the leaf that is counted or, when all are
// done, on the last.
function seenPart(app) {
  let on = null; // the leaf
  const seenOn = () => app.walk()?.open?.seen[on?.plant] ?? {};
  const keepSeen = async (what, value) => {
    await app.keep(() => on && { kind: "seen", walk: app.walkID, plant: on.plant, what, value: value(seenOn()), step: true });
    app.refresh();
  };
  const sign = what => button(say(what), () => keepSeen(what, seen => !seen[what]), { "data-seen": what });
  const honeydew = sign("honeydew"), colonies = sign("colonies");
  const number = what => button("", () => keepSeen(what, seen => (seen[what] ?? 0) + 1), { "data-seen": what });
  const predators = number("predators"), mummies = number("mummies");
  const note = h("input", { type: "text", id: "note", maxlength: 200, autocomplete: "off" });
  const keepNote = button(say("keep-note"), async () => {
    await app.keep(() => ({ kind: "note", walk: app.walkID, note: note.value.trim(), step: true }));
    app.refresh();
  }, { id: "keep-note" });
  note.value = app.walk().open.note;
  const early = button(say("leave-early"), () => leave(app), { id: "early" });
  const element = h("details", { class: "also" }, h("summary", {}, say("also-seen")),
    h("div", { class: "stack" }, honeydew, colonies, predators, mummies, h("label", { class: "control" }, h("span", {}, say("note")), note), keepNote, early));
  const update = leaf => {
    on = leaf ?? null;
    const seen = seenOn();
    honeydew.setAttribute("aria-pressed", String(Boolean(seen.honeydew)));
    colonies.setAttribute("aria-pressed", String(Boolean(seen.colonies)));
    predators.textContent = say("one-more", { what: say("predators"), n: seen.predators ?? 0 });
    mummies.textContent = say("one-more", { what: say("mummies"), n: seen.mummies ?? 0 });
  };
  return { element, update };
}

function nameOf(leaf, protocol) {
  const plant = say("plant-of", { plant: leaf.plant, plants: protocol.plants }), name = leafName(leaf, protocol);
  if (!name) return plant;
  return `${plant}, ${isNaN(name) ? say(`leaf-${name}`) : say("leaf-n", { n: name })}`;
}

// markedOf are the leaves that stand out on the drawing: the one that is counted, or both.
const markedOf = (leaf, protocol) => protocol.leaves === 2 ? [leafName(leaf, protocol)] : ["lower", "upper"];

const foundOn = (leaf, protocol) => protocol.ask === "count" ? (leaf.range ? classSaid(leaf.range) : number(leaf.count)) : say(leaf.over ? "yes" : "no").toLowerCase();

// sumOf is what the visit found.
function sumOf(visit, protocol) {
  const t = tally(visit);
  if (protocol.ask !== "count") return say("stop-over", { over: t.over, n: t.looked });
  return say(protocol.leaves > 1 ? "stop-sum" : "stop-units", { n: t.looked, sum: (t.about ? "≈ " : "") + number(t.sum), mean: number(t.sum / Math.max(1, t.looked), 1) });
}

// placeWords say where the visit is taken to be.
function placeWords(walk, visit) {
  const s = status();
  if (s?.stop === visit.stop && s.busy) return s.place ? say("place-busy", { accuracy: say("within", { metres: reach(s.place.accuracy) }), n: s.place.fixes }) : say("looking");
  const place = placeOf(walk, visit);
  if (!place) return say("place-lost");
  if (place.source === "planned") return visit.place ? say("place-planned") : say("place-none");
  return place.source === "typed" ? say("place-typed") : say("place-done", { accuracy: say("within", { metres: reach(place.accuracy) }) });
}
