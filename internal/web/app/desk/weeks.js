// Weeks: fields and visits of a season, what grew, whether the spray worked, where to go.
import { button, h, s } from "../dom.js";
import { dayInWords, number } from "../words.js";
import { mapRoles, part, settingsOf } from "./answer.js";
import { commandPart } from "./command.js";
import { tick } from "./control.js";
import { ask, fill, given, latest, missing, of, sent } from "./desk.js";
import { small } from "./picture.js";
import { said } from "./words.js";

export function weeks(app) {
  const { desk } = app, list = h("section", { id: "season" }), told = h("section", { id: "told", role: "status" }), command = commandPart(), run = latest();
  const seasonFile = () => sent(desk, "season");
  const units = () => given({ units: desk.settings.units });
  const compare = async name => {
    desk.picked = name;
    for (const row of list.querySelectorAll("tr[data-field]")) row.setAttribute("aria-current", String(row.dataset.field === name));
    fill(told, h("p", {}, said("working")));
    const visits = (desk.season.fields.find(f => f.name === name)?.cells ?? []).filter(c => !desk.without.includes(c.visit));
    const done = await run(async signal => {
      const last = visits.at(-1);
      const now = last ? await ask("visit", { field: name, visit: last.visit, ...units() }, seasonFile(), signal) : null;
      if (visits.length < 2 || signal.aborted) return { now };
      fill(told, nowOf(name, now), h("p", {}, said("working"))); // what changed takes longer
      return { now, changed: await ask("weeks", { field: name, ...given({ without: desk.without }), ...units() }, seasonFile(), signal) };
    });
    if (!done) return;
    if (done.problem) fill(told, h("p", { class: "wrong" }, done.problem.message));
    else fill(told, toldOf(name, done.value));
    command.show([done.value?.changed?.facts.command ?? done.value?.now?.facts.command ?? desk.season.command].filter(Boolean));
    document.getElementById("screen").dataset.told = name;
  };
  const show = async () => {
    try {
      desk.season = (await ask("season", {}, seasonFile())).facts;
    } catch (problem) {
      fill(list, h("p", {}, said(desk.folder.name ? "no-season" : "no-season-folder")), desk.folder.season || of(desk, "season").length ? h("p", { class: "wrong" }, problem.message) : null);
      return;
    }
    desk.folder.season ||= of(desk, "season").length ? "" : desk.season.name;
    desk.without = desk.without.filter(n => desk.season.visits.some(v => v.id === n));
    fill(list, seasonTable(desk.season, compare), withoutPart(desk, () => compare(desk.picked)));
    command.show([desk.season.command]);
    document.getElementById("screen").dataset.listed = "";
    const first = desk.season.fields.find(f => f.name === desk.picked) ?? desk.season.fields[0];
    if (first) compare(first.name);
  };
  show();
  return { element: [keepPart(app, show), h("div", { class: "columns two weeks" }, list, told), command.part] };
}

// keepPart keeps the morning that was brought in the season of the folder.
function keepPart(app, show) {
  const { desk } = app, done = h("span", { role: "status" }), notes = h("div", { id: "kept-notes" });
  if (!desk.folder.name || missing(desk)) return null;
  const keep = button(said("keep"), async () => {
    keep.disabled = true;
    try {
      const { facts } = await ask("keep", given({ ...settingsOf(desk), write: undefined }), sent(desk, ...mapRoles));
      done.textContent = said("kept", { n: facts.visits.join(", ") });
      fill(notes, part("notes", facts.notes));
      app.tell("");
      await show();
    } catch (problem) {
      app.tell(problem.message);
    }
    keep.disabled = false;
  }, { id: "keep", class: "main" });
  return h("div", {}, h("p", { class: "top-row" }, keep, done), notes);
}

// seasonTable are the fields by their visits, worst first.
function seasonTable(season, compare) {
  const visits = season.visits;
  return [h("h2", {}, said("season-of", season)), h("div", { class: "list", tabindex: 0, role: "region", "aria-label": said("season-of", season) }, h("table", {},
    h("thead", {}, h("tr", {}, h("td", {}), h("th", { scope: "col" }, said("field")), visits.map(v => h("th", { scope: "col" }, shortDay(v.date))))),
    h("tbody", {}, season.fields.map(f => h("tr", { "data-field": f.name }, h("td", {}, small({ boundary: f.boundary, bounds: f.bounds_of ?? f.bounds }, f.zones)),
      h("th", { scope: "row" }, button(f.name, () => compare(f.name), { class: "link" })),
      visits.map(v => h("td", {}, cell(f.cells.find(c => c.visit === v.id))))))))),
  season.treated.length ? h("ul", {}, season.treated.map(t => h("li", {}, said("sprayed-on", { day: dayInWords(t.date), note: t.note })))) : null,
  part("notes", season.notes)];
}

// withoutPart leaves visits out of what is compared. It is open where two visits are of one
// day of a field, of which nobody but a person can say which counts.
function withoutPart(desk, changed) {
  const { visits, fields } = desk.season, dateOf = n => visits.find(v => v.id === n)?.date;
  if (visits.length < 2) return null;
  const twice = fields.some(f => new Set(f.cells.map(c => dateOf(c.visit))).size < f.cells.length);
  const put = n => out => {
    desk.without = visits.map(v => v.id).filter(id => id === n ? out : desk.without.includes(id));
    changed();
  };
  return h("details", { id: "leave-out", open: twice || desk.without.length > 0 }, h("summary", {}, said("leave-out")), h("p", {}, said("leave-out-hint")),
    visits.map(v => tick(said("leave-out-visit", { n: v.id, day: v.date ? dayInWords(v.date.slice(-10)) : "?", stops: v.stops, by: v.author ? ` (${v.author})` : "" }), desk.without.includes(v.id), put(v.id), { id: `without-${v.id}` })));
}

// shortDay is a day of the calendar in a heading; of a visit over several days the last.
const shortDay = date => date ? new Date(`${date.slice(-10)}T12:00:00Z`).toLocaleDateString("en-GB", { day: "numeric", month: "short", timeZone: "UTC" }) : "?";

// cell is a visit to a field: how much of it is red and yellow, drawn and said.
function cell(visit) {
  if (!visit) return h("small", {}, said("cell-none"));
  const all = Object.values(visit.areas_ha).reduce((sum, a) => sum + a, 0), share = zone => all ? (visit.areas_ha[zone] ?? 0) / all : 0;
  const red = share("treat"), yellow = share("watch");
  return [s("svg", { viewBox: "0 0 100 12", preserveAspectRatio: "none", class: "share", "aria-hidden": "true" },
    s("rect", { class: "clear", width: 100, height: 12 }), s("rect", { class: "watch", width: 100 * (red + yellow), height: 12 }), s("rect", { class: "treat", width: 100 * red, height: 12 })),
  h("small", {}, said("cell", { red: number(100 * red), stops: visit.stops }))];
}

// nowOf is what to do now, as the last visit says.
const nowOf = (name, now) => [h("h2", {}, said("what-changed", { name })), now ? h("p", { class: "sentence" }, now.facts.answer.answer) : null];

// toldOf is what changed in a field, and what to do now.
function toldOf(name, { now, changed }) {
  const answers = changed?.facts.fields[0]?.answers;
  if (!answers) return [nowOf(name, now), h("p", {}, said("one-visit", { name }))];
  return [h("h2", {}, said("what-changed", { name })), answers.map(a => [h("h3", {}, a.asked), a.said.map(line => h("p", {}, line))]), part("notes", changed.facts.notes)];
}
