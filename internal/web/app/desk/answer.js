// Answer: one sentence, the map, the reasons and the day. What it goes by can be changed,
// and the map follows.
import { button, h } from "../dom.js";
import { measureIn } from "../measure.js";
import { fileOf, save } from "../share.js";
import { dayInWords } from "../words.js";
import { rules, stagesOf } from "../calls.js";
import { commandPart } from "./command.js";
import { field, numberIn, pick } from "./control.js";
import { daysPart } from "./days.js";
import { BESIDE, ask, fill, given, latest, missing, onPage, sent } from "./desk.js";
import { key, picture, small } from "./picture.js";
import { visitsPart } from "./visits.js";
import { said } from "./words.js";

export const settingsOf = desk => given({ ...desk.reading, ...desk.settings });

// mapRoles are the roles of files that a map is made from.
export const mapRoles = ["boundary", "counts", ...BESIDE];

export function answer(app) {
  const { desk } = app, command = commandPart();
  const lacks = missing(desk);
  if (lacks) return { element: lackingPart(app, lacks) };
  const days = h("section", { id: "days" }), list = h("section", { id: "list" }), map = h("section", { id: "map" }), words = h("section", { id: "why" }), sentence = h("p", { class: "sentence", role: "status", id: "sentence" });
  const run = latest();
  const show = () => {
    const found = shownField(desk);
    sentence.textContent = found?.answer ?? "";
    fill(days, daysPart(desk, desk.map.facts.open_days, work), visitsPart(desk, false, work));
    fill(list, listPart(desk, show));
    fill(map, mapPart(desk, found));
    fill(words, wordsPart(app, found, work));
    if (found) levels(found);
    command.show([desk.map.facts.command], desk.map.facts.settings);
    document.getElementById("screen").dataset.shown = String(++shows);
  };
  const work = async () => {
    map.classList.add("busy");
    if (!desk.map) sentence.textContent = said("working");
    const done = await run(signal => ask("map", settingsOf(desk), sent(desk, ...mapRoles), signal));
    if (!done) return;
    map.classList.remove("busy");
    desk.handed = null;
    if (done.problem) {
      desk.map = null;
      sentence.textContent = said("cannot", { why: done.problem.message });
      fill(days, daysPart(desk, desk.checked?.open_days, work), visitsPart(desk, done.problem.setting === "one-visit", work));
      for (const part of [list, map, words]) part.replaceChildren();
      command.show([]);
      return;
    }
    desk.map = done.value;
    show();
  };
  if (desk.map) queueMicrotask(show);
  else work();
  return { element: [days, sentence, h("div", { class: "columns answer" }, h("div", {}, list, asking(desk, work)), map, words), command.part] };
}

// WHERE is what to do in Bring about what is lacking: the words for it, and the control.
const WHERE = { "needs-day": ["choose-day", "#which-day input"], "needs-columns": ["choose-columns", "[data-column]"] };

// lackingPart says what is lacking, and leads to where it is given.
function lackingPart(app, lacks) {
  const [words, control] = WHERE[lacks] ?? ["bring", "#choose"];
  const there = () => { app.go("bring"); document.querySelector(control)?.focus(); };
  return [h("p", { id: "lacking" }, said("no-answer"), " ", said(lacks)), button(said(words), there, { class: "main", id: "give-lacking" })];
}

let shows = 0;

// levels shows in the empty fields what holds where nothing is typed.
function levels(found) {
  for (const [id, level] of [["set-treat-at", found.treat_at], ["set-watch-at", found.watch_at]]) {
    document.getElementById(id)?.setAttribute("placeholder", String(Math.round(level * 100) / 100));
  }
}

// shownField is the field that was picked, else the worst.
export function shownField(desk) {
  const { fields, worst } = desk.map.facts;
  return fields.find(f => f.name === desk.picked) ?? fields.find(f => f.name === worst[0]?.name) ?? fields[0] ?? null;
}

export const outlineOf = (desk, name) => desk.map.facts.outlines.find(o => o.name === name);

// listPart are all fields, worst first, with a small map each.
function listPart(desk, show) {
  const { fields, worst } = desk.map.facts, shown = shownField(desk);
  if (worst.length < 2) return [];
  return [h("h2", {}, said("fields")), h("ul", { class: "fields" }, worst.map(w => {
    const found = fields.find(f => f.name === w.name), outline = outlineOf(desk, w.name);
    return h("li", {}, button([small(outline, found?.zones ?? []), h("span", {}, h("strong", {}, w.name), w.short)], () => { desk.picked = w.name; show(); },
      { "aria-pressed": String(shown?.name === w.name), "data-field": w.name, id: `field-${w.name}` }));
  }))];
}

// stopsOf are the stops of a field, as stops.geojson has them.
export function stopsOf(desk, name) {
  const file = desk.map.files.find(f => f.name === "stops.geojson");
  return JSON.parse(new TextDecoder().decode(file.bytes)).features.filter(f => f.properties.field === name);
}

function mapPart(desk, found) {
  if (!found) return [];
  const stops = stopsOf(desk, found.name);
  const drawn = picture({ outline: outlineOf(desk, found.name), zones: found.zones, stops, label: said("map-of", found) });
  return [drawn.svg, legendOf(found.zones, stops)];
}

// legendOf tells the signs that are on a map.
export function legendOf(zones, stops, more = []) {
  const kinds = ["treat", "watch", "clear", "unscouted"].filter(z => zones.some(f => f.properties.zone === z)).map(z => [z, `zone-${z}`]);
  if (stops.some(f => !f.properties.not_read)) kinds.push(["stop", "legend-stop"]);
  if (stops.some(f => f.properties.not_read)) kinds.push(["unread", "legend-unread"]);
  return h("ul", { class: "legend" }, [...kinds, ...more].map(([sign, words]) => h("li", {}, key(sign), said(words))));
}

// part is a list that is folded away; null where it is empty.
export const part = (name, lines, open) => lines.length ? h("details", { open, "data-part": name }, h("summary", {}, said(name)), h("ul", {}, lines.map(l => h("li", {}, l)))) : null;

// wordsPart are the reasons and the day; figures and doubts are folded away.
function wordsPart(app, found, work) {
  const { desk } = app, { facts, files } = desk.map;
  const notes = part("notes", [...facts.problems.map(onPage), ...facts.notes]);
  if (!found) return [notes];
  const reasons = [...found.why, ...found.sure, ...found.look_out], first = reasons.slice(0, 3);
  const left = lines => lines.filter(l => !first.includes(l));
  return [
    h("h2", {}, said("reasons")), h("ul", { id: "reasons" }, first.map(l => h("li", {}, l))),
    h("p", {}, said(found.unused ? "stops-unread" : "stops-used", { used: found.used, n: found.unused })),
    found.day ? h("p", { id: "day" }, h("strong", {}, said("look-again"), ": "), dayInWords(found.day)) : null,
    h("div", { class: "row" }, button(said("go-hand-over"), () => app.go("hand-over"), { class: "main", id: "go-hand-over" })),
    part("sure", left([...found.why, ...found.sure])), part("doubts", left(found.look_out)),
    h("details", { "data-part": "figures" }, h("summary", {}, said("figures")), h("pre", { class: "figures", tabindex: 0, role: "group", "aria-label": said("figures") }, facts.details)),
    notes,
    h("details", { "data-part": "files" }, h("summary", {}, said("files")), h("div", { class: "row" }, files.map(saveButton)),
      files.some(f => f.name === "map.png") ? null : button(said("pictures"), () => { desk.settings.write = ["report", "map.png", "map.pdf"]; work(); }, { id: "pictures" })),
    h("ul", { id: "cautions" }, facts.cautions.map(l => h("li", {}, l))),
  ];
}

export const saveButton = f => button(said("save", { name: f.name }), () => save(fileOf(f.name, f.type, f.bytes)), { "data-save": f.name });

// asking is what the answer goes by.
function asking(desk, work) {
  const form = h("section", { class: "stack", id: "asking" }), settings = desk.settings;
  const put = name => value => { settings[name] = value; work(); };
  const units = value => {
    if (value) measureIn(value); // the bars of maps go by them too
    put("units")(value);
  };
  const number = name => text => {
    const n = numberIn(text);
    settings[name] = Number.isNaN(n) ? text : n; // what is no number the engine refuses, with its words
    work();
  };
  const numbered = (name, id) => field(said(id ?? name), settings[name] ?? "", number(name), { inputmode: "decimal", id: `set-${name}` });
  const show = all => {
    const rule = all.find(r => r.name === settings.rule), stages = rule ? [...new Set(stagesOf(rule))] : [];
    fill(form, h("h2", {}, said("by")),
      pick(said("rule"), [["", said("rule-none")], ...all.map(r => [r.name, `${r.pest}: ${r.region}`])], settings.rule, v => { settings.rule = v; settings.stage = ""; show(all); work(); }, { id: "set-rule" }),
      stages.length ? pick(said("stage"), [["", said("stage-counts")], ...stages.map(k => [k, k])], settings.stage, put("stage"), { id: "set-stage" }) : null,
      h("div", { class: "pair" }, numbered("treat-at"), numbered("watch-at")),
      pick(said("units"), [["", said("units-both")], ["us", said("units-us")], ["metric", said("units-metric")]], settings.units, units, { id: "set-units" }),
      h("details", {}, h("summary", {}, said("money")), h("div", { class: "stack" },
        h("div", { class: "pair" }, numbered("cost"), numbered("price")), numbered("loss"),
        pick(said("per"), [["", said("per-hectare")], ["acre", said("per-acre")]], settings.per, put("per"), { id: "set-per" }))));
  };
  show([]);
  rules().then(({ rules: all }) => show(all), () => {});
  return form;
}
