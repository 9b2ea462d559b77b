// Before: which field, which rule at which stage, and so what to count; then the walk.
import { boundary, plain, plan, protocolOf, ruleOf, rules, stagesOf } from "../calls.js";
import { button, h, labelled } from "../dom.js";
import { ready } from "../engine.js";
import { canLocate } from "../locator.js";
import { fieldsOf, theWalk } from "../log.js";
import { sharePart } from "../handing.js";
import { asksOf, drawingOf } from "../protocol.js";
import { combine } from "../position.js";
import { counted } from "../walk.js";
import { measureIn } from "../measure.js";
import { dayInWords, say, speak, spoken } from "../words.js";
import { day } from "../clock.js";

const STOPS = 12; // our choice: fewer never end a walk

export function before(app) {
  const parts = { kept: h("p", { class: "quiet" }), what: h("div", { id: "what", role: "status" }), engine: h("p", { class: "quiet", role: "status", id: "engine-said" }) };
  const field = chosenField(app);
  const update = what => {
    if (what === "kept") parts.kept.textContent = say(app.kept === "kept" ? "kept" : "maybe-kept");
    else app.shown.name === "before" && again(app);
  };
  update("kept");
  parts.engine.textContent = say("engine-loading");
  ready.then(() => { parts.engine.textContent = ""; }, () => { parts.engine.textContent = say("engine-failed", { why: app.failed }); });
  const element = [
    h("header", { class: "top" }, h("h1", {}, say("before")), languages(app)),
    h("p", { class: "promise" }, say("promise")), trouble(), goOn(app),
    h("section", {}, h("h2", {}, say("field")), fieldList(app, field), addField(app)),
    field ? rulePart(app, field, parts.what) : null,
    field ? morePart(app, field) : null,
    field ? startPart(app, field) : null,
    walksPart(app), button(say("eye"), () => app.go("eye"), { id: "eye", class: "wide" }), parts.kept, parts.engine,
  ];
  return { element, update };
}

// again shows the screen anew after a choice, with the focus where it was.
function again(app) {
  const id = document.activeElement?.id, y = scrollY;
  const { element, update } = before(app);
  document.getElementById("screen").replaceChildren(...element.filter(Boolean));
  app.shown.update = update;
  if (id) document.getElementById(id)?.focus({ preventScroll: true });
  scrollTo(0, y);
}

async function set(app, values) {
  await app.keep(() => ({ kind: "set", values }));
}

async function setField(app, field, values) {
  await app.keep(() => ({ kind: "field", field: field.id, values }));
}

// languages switches the language of the page.
function languages(app) {
  const one = (code, name) => button(name, async () => {
    speak(code);
    await set(app, { language: code });
    again(app);
    document.title = say("before");
  }, { lang: code, id: `speak-${code}`, "aria-pressed": String(spoken() === code) });
  return h("div", { class: "row", role: "group", "aria-label": say("language") }, one("en", "English"), one("es", "Español"));
}

// trouble says what the phone will not do here.
function trouble() {
  if (canLocate() && !onApple()) return null;
  const why = onApple() ? "iphone-file" : isSecureContext ? "no-position" : "insecure";
  return h("p", { class: "wrong" }, say(why));
}

const onApple = () => location.protocol === "file:" && /iPhone|iPad/.test(navigator.userAgent);

function goOn(app) {
  const w = app.walk();
  if (!w || w.ended) return null;
  const name = app.state.fields.get(w.field)?.name ?? "";
  return h("section", { class: "notice" }, h("p", {}, say("open-walk", { field: name, n: counted(w).length })), button(say("go-on"), () => app.go(w.open ? "count" : "walk"), { class: "main wide", id: "go-on" }));
}

// chosenField is the field that was chosen, else the last.
export function chosenField(app) {
  const all = fieldsOf(app.state);
  return all.find(f => f.id === app.state.settings.field) ?? all.at(-1) ?? null;
}

function fieldList(app, chosen) {
  const all = fieldsOf(app.state);
  if (!all.length) return h("p", {}, say("no-field"));
  return h("fieldset", { class: "choices" }, h("legend", { class: "hidden" }, say("field")), all.map(f =>
    h("label", { class: "choice" }, h("input", { type: "radio", name: "field", id: `field-${f.id}`, checked: f === chosen, onchange: async () => { await set(app, { field: f.id }); again(app); } }), h("span", {}, f.name))));
}

function addField(app) {
  const file = h("input", { type: "file", id: "boundary", hidden: true, multiple: true, onchange: async e => {
    try {
      const found = await boundary([...e.target.files]);
      for (const f of found) await app.keep(() => ({ kind: "field", field: crypto.randomUUID(), values: { name: f.name, geometry: f.geometry } }));
      await set(app, { field: [...app.state.fields.keys()].at(-1) });
      again(app);
    } catch (problem) {
      app.tell(problem.message);
    }
  } });
  return h("div", { class: "stack" }, file, button(say("load"), () => file.click(), { id: "load", class: fieldsOf(app.state).length ? null : "main" }),
    h("small", {}, say("load-hint")), button(say("make-field"), () => app.go("make"), { id: "make" }));
}

// rulePart chooses stage and rule, and says what to count.
function rulePart(app, field, what) {
  const stage = h("select", { id: "stage" }), rule = h("select", { id: "rule" });
  const tell = async () => {
    const p = await protocolOf(field).catch(() => null);
    what.replaceChildren(...(p ? toldWhat(p) : []));
    choice.hidden = !p?.choice;
  };
  rules().then(({ rules: all }) => {
    const chosen = ruleOf(all, field), stages = stagesOf(chosen);
    rule.replaceChildren(...[...new Set(all.map(r => r.pest))].map(pest => h("optgroup", { label: all.find(r => r.pest === pest).title.split(":")[0] }, all.filter(r => r.pest === pest).map(r =>
      h("option", { value: r.name, selected: r === chosen }, r.title)))));
    stage.replaceChildren(...stages.map(k => h("option", { value: k, selected: k === field.stage }, stageName(k))));
    if (!stages.length) stage.replaceChildren(h("option", { value: "" }, say("stage-any")));
    tell();
  }, () => {});
  stage.addEventListener("change", async () => { await setField(app, field, { stage: stage.value }); field.stage = stage.value; tell(); });
  rule.addEventListener("change", async () => { await setField(app, field, { rule: rule.value, stage: "" }); again(app); });
  const how = h("select", { id: "how" }, ["yes", "numbers"].map(k => h("option", { value: k, selected: (k === "numbers") === Boolean(field.numbers) }, say(`how-${k}`))));
  how.addEventListener("change", async () => { field.numbers = how.value === "numbers"; await setField(app, field, { numbers: field.numbers }); tell(); });
  const choice = labelled(say("how"), how);
  return h("section", {}, h("h2", {}, say("what-to-count")), h("div", { class: "stack" }, labelled(say("rule"), rule), labelled(say("stage"), stage), choice), what);
}

// stageName is a growth stage in words; rules for other crops name theirs themselves.
export const stageName = stage => STAGES.includes(stage) ? say(`stage-${stage}`) : stage;

const STAGES = ["pre-boot", "boot", "bloom to milk", "dough", "black layer"];

// toldWhat are the lines on what to count, or why nothing can be.
function toldWhat(p) {
  if (p.ask === "none") return [h("p", { class: "wrong" }, say("advice", { advice: p.advice }))];
  return [h("div", { class: "what" }, h("div", {}, asksOf(p).map(line => h("p", {}, line))), drawingOf(p, p.stage, ["lower", "upper"])), p.how ? h("p", { class: "quiet" }, h("cite", { lang: "en" }, p.how)) : "",
    h("p", { class: "quiet" }, say("source"), " ", h("cite", { lang: "en" }, p.source)), h("p", { class: "quiet" }, p.caution)];
}

function morePart(app, field) {
  const text = (key, of, put) => labelled(say(key), h("input", { type: key === "rows" ? "number" : "text", id: `my-${key}`, value: of ?? "", min: key === "rows" ? 0 : null, max: key === "rows" ? 360 : null, autocomplete: "off", onchange: e => put(e.target.value) }));
  const at = h("p", { class: "quiet", role: "status" }, field.gate ? say("gate-kept") : "");
  const gate = button(say("gate-here"), () => navigator.geolocation?.getCurrentPosition(async p => {
    const fix = combine([{ longitude: p.coords.longitude, latitude: p.coords.latitude, accuracy: p.coords.accuracy }]);
    await setField(app, field, { gate: fix });
    at.textContent = say("gate-kept");
  }, () => { at.textContent = say("no-position"); }, { enableHighAccuracy: true, timeout: 20000 }), { id: "gate" });
  const week = h("input", { type: "file", id: "week", hidden: true, onchange: async e => {
    try {
      const zones = JSON.parse(await e.target.files[0].text()).features.filter(f => f.properties.zone === "treat" && f.geometry);
      await setField(app, field, { week: zones.map(f => ({ geometry: f.geometry })) });
      weekSaid.textContent = say("last-week-kept");
    } catch (problem) {
      app.tell(problem.message);
    }
  } });
  const weekSaid = h("p", { class: "quiet", role: "status" }, field.week ? say("last-week-kept") : "");
  return h("details", {}, h("summary", {}, say("more-field")), h("div", { class: "stack" },
    text("name", field.name, v => setField(app, field, { name: v })),
    text("grower", field.grower, v => setField(app, field, { grower: v })),
    text("observer", app.state.settings.observer, v => set(app, { observer: v })),
    text("rows", field.rows, v => setField(app, field, { rows: v })),
    gate, at, week, button(say("last-week"), () => week.click(), { id: "load-week" }), h("small", {}, say("last-week-hint")), weekSaid,
    units(app),
    button(say("remove-field"), async () => { await app.keep(() => ({ kind: "field-gone", field: field.id })); again(app); }, { id: "remove" })));
}

function units(app) {
  const choice = h("select", { id: "units", onchange: e => { measureIn(e.target.value); set(app, { units: e.target.value }); } }, ["us", "metric"].map(u => h("option", { value: u, selected: app.state.settings.units === u }, say(`units-${u}`))));
  return labelled(say("units"), choice);
}

// startPart plans the walk and begins it.
function startPart(app, field) {
  const stops = h("input", { type: "number", id: "stops", min: 1, max: 200, value: app.state.settings.stops ?? STOPS });
  const begin = async (planned, go) => {
    go.disabled = true;
    try {
      const protocol = app.failed ? plain() : await protocolOf(field);
      if (protocol.ask === "none") throw new Error(say("advice", { advice: protocol.advice }));
      const places = !planned ? [] : field.planned ?? (await plan(field, Number(stops.value))).stops;
      const walk = crypto.randomUUID();
      await app.keep(() => ({ kind: "walk", walk, field: field.id, day: day(), observer: app.state.settings.observer ?? "", stage: protocol.stage, protocol, stops: places }));
      app.walkID = walk;
      app.go("walk");
    } catch (problem) {
      app.tell(problem.message);
      go.disabled = false;
    }
  };
  const open = app.walk() && !app.walk().ended; // going on with it is what comes first then
  const go = button(say("plan-walk"), () => begin(true, go), { class: open ? "wide" : "main wide", id: "plan" });
  const free = button(say("walk-unplanned"), () => begin(false, free), { id: "free" });
  return h("section", { class: "stack" }, field.planned ? h("p", {}, say("planned-already", { n: field.planned.length })) : labelled(say("stops"), stops), go, free);
}

// walksPart are the walks that the phone keeps, newest first, each with its file.
function walksPart(app) {
  const all = [...app.state.walks.keys()].reverse().map(id => theWalk(app.state, id)).filter(w => counted(w).length);
  if (!all.length) return null;
  return h("details", { open: all.some(w => w.ended && !w.shared) }, h("summary", {}, say("walks")), h("ul", { class: "walks" }, all.map(w => h("li", {},
    h("p", {}, say("walk-line", { field: app.state.fields.get(w.field)?.name ?? "", day: dayInWords(w.day), n: counted(w).length }), w.shared ? "" : ` ${say("not-shared")}`),
    sharePart(app, w),
    button(say("open-noon"), () => { app.walkID = w.id; app.go("noon"); })))));
}
