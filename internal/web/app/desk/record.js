// The record: what was really sprayed, begun with what the job planned. Nothing of it is
// kept before a person has looked at it and pressed the button.
import { button, h } from "../dom.js";
import { saveButton } from "./answer.js";
import { field, pick, tick } from "./control.js";
import { ask, fill, given, lookAgain } from "./desk.js";
import { said } from "./words.js";

const ONE_LINE = ["carrier", "start", "end", "wind", "weather", "who", "licence", "notes"];

// NEEDED is without which a record is of no use.
const NEEDED = ["date", "area", "products", "who"];

// recordPart is the form, and what came of it; nothing where there is no job. show(command)
// is told of the command that writes the same.
export function recordPart(app, show) {
  const { desk } = app, planned = desk.handed?.facts.planned ?? [];
  if (!planned.length) return [];
  const form = h("div", {}), done = h("div", { role: "status", id: "record-done" });
  const changed = () => desk.records[desk.recording] ??= {}; // by people
  const record = () => {
    const { product, ...begun } = planned.find(p => p.field === desk.recording);
    return { ...begun, products: product.join("\n"), ground: true, ...changed() };
  };
  if (!planned.some(p => p.field === desk.recording)) desk.recording = planned[0].field;
  const write = async () => {
    const lacks = NEEDED.filter(name => !String(record()[name] ?? "").trim()).map(name => said(`record-${name}`));
    if (lacks.length) {
      app.tell(said("record-lacks", { what: lacks.join(", ") }));
      return;
    }
    try {
      const { facts, files } = await ask("record", { ...settingsOf(record()), keep: Boolean(desk.folder.name) }, sentWith(desk, record()));
      desk.applied = files.find(f => f.name === "applied.csv")?.bytes;
      app.tell("");
      if (facts.folder) await lookAgain(desk);
      fill(done, doneParts(app, facts, files));
      show(facts.command);
    } catch (problem) {
      fill(done);
      app.tell(problem.message);
    }
  };
  const build = () => {
    const r = record(), put = name => value => { changed()[name] = value; };
    const text = name => field(said(`record-${name}`), r[name] ?? "", put(name), { id: `record-${name}`, hint: ["area", "start", "wind"].includes(name) ? said(`record-${name}-hint`) : null });
    fill(form, h("div", { class: "fields-of" },
      planned.length > 1 ? pick(said("field"), planned.map(p => [p.field, p.field]), desk.recording, v => { desk.recording = v; build(); }, { id: "record-field" }) : null,
      h("label", { class: "control" }, h("span", {}, said("record-date")), h("input", { type: "date", id: "record-date", value: r.date ?? "", onchange: e => put("date")(e.target.value) })),
      text("area"),
      h("label", { class: "control" }, h("span", {}, said("record-products")), h("textarea", { rows: 2, id: "record-products", value: r.products, onchange: e => put("products")(e.target.value) }), h("small", {}, said("record-products-hint"))),
      ONE_LINE.map(text)),
    tick(said("record-ground"), r.ground, put("ground"), { id: "record-ground" }),
    h("div", { class: "row" }, button(desk.folder.name ? said("record-keep", desk.folder) : said("record-write"), write, { id: "record-write", class: "main" })));
  };
  build();
  return h("details", { id: "record", open: desk.recordOpen, ontoggle: e => { desk.recordOpen = e.target.open; } }, h("summary", {}, said("record")), h("p", {}, h("strong", {}, planned.length > 1 ? "" : `${planned[0].field}. `), said("record-hint")), form, done);
}

// settingsOf are what was entered, called as the flags are.
function settingsOf({ products, ground, ...r }) {
  return given({ ...r, product: products.split("\n").map(l => l.trim()).filter(Boolean), ground: undefined });
}

// sentWith are the files that a record goes by: the map's summary, the ground, and the
// records before it where no folder has them.
function sentWith(desk, { ground }) {
  const named = (files, name, role) => files.filter(f => f.name === name).map(f => ({ role, name, bytes: f.bytes }));
  return [...named(desk.map.files, "summary.json", "summary"), ...ground ? named(desk.handed.files, "swaths.geojson", "ground") : [],
    ...desk.applied && !desk.folder.name ? [{ role: "applied", name: "applied.csv", bytes: desk.applied }] : []];
}

// doneParts say where the record is; its ground can go into the season.
function doneParts(app, facts, files) {
  const { desk } = app, ground = files.find(f => f.name.endsWith(".geojson")), told = h("span", { role: "status" });
  const season = async () => {
    try {
      await ask("sprayed", {}, [{ role: "ground", name: ground.name, bytes: ground.bytes }]);
      told.textContent = said("record-in-season");
      app.tell("");
    } catch (problem) {
      app.tell(problem.message);
    }
  };
  return [h("p", {}, facts.folder ? said("record-kept", { name: facts.name, folder: facts.folder }) : said("record-made", facts)), h("div", { class: "row" }, files.map(saveButton)),
    ground && facts.folder && desk.folder.season ? h("p", { class: "top-row" }, button(said("record-season"), season, { id: "record-season" }), told) : null];
}
