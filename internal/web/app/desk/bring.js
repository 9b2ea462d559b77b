// Bring: files are dropped, what each is is found and said, and rows that cannot be read
// stand in a table beside what to read in their place.
import { button, h } from "../dom.js";
import { fileOf, save } from "../share.js";
import { commandPart } from "./command.js";
import { daysPart } from "./days.js";
import { BESIDE, ask, bring, correct, corrects, fill, given, listOf, missing, onPage, of, sent, unnamed } from "./desk.js";
import { said } from "./words.js";

// rolesOf are what a file may be used as: those of settings where the engine knows them.
const rolesOf = desk => ["counts", "boundary", "keep-off", "season", ...BESIDE.filter(r => desk.folder.named.includes(r)), ""];

export function bringing(app) {
  const { desk } = app, came = h("section", {}), days = h("section", { id: "days" }), rows = h("section", { id: "rows" }), list = h("section", { id: "corrections" }), command = commandPart();
  const status = h("p", { role: "status", class: "promise", id: "needs" });
  const on = h("div", { class: "row" }, button(said("go-answer"), () => app.go("answer"), { class: "main", id: "go-answer" }));

  const show = () => {
    fill(came, cameTable(app, changed));
    fill(days, daysPart(desk, desk.checked?.open_days, recheck));
    fill(list, correctionsPart(desk, recheck));
    const lacks = missing(desk);
    status.textContent = lacks ? said(lacks) : "";
    on.hidden = Boolean(lacks);
  };
  const changed = () => { show(); recheck(); };
  const recheck = async () => {
    desk.map = desk.handed = null;
    await checkRows(app, rows, command, recheck);
    show();
  };
  const take = async files => {
    try {
      await bring(desk, files);
      app.tell("");
    } catch (problem) {
      app.tell(problem.message);
    }
    changed();
  };
  changed();
  return { element: [h("div", { class: "columns two" }, h("div", {}, dropZone(take), folderPart(app, take)), h("div", {}, status, came, days, on)), rows, list, command.part] };
}

// dropZone takes files that are dropped or chosen.
function dropZone(take) {
  const input = h("input", { type: "file", multiple: true, hidden: true, id: "files", onchange: async e => {
    await take(await Promise.all([...e.target.files].map(read)));
    e.target.value = "";
  } });
  const zone = h("div", { class: "drop", id: "drop",
    ondragover: e => { e.preventDefault(); zone.classList.add("over"); },
    ondragleave: () => zone.classList.remove("over"),
    ondrop: async e => {
      e.preventDefault();
      zone.classList.remove("over");
      await take(await Promise.all([...e.dataTransfer.files].map(read)));
    } },
  h("p", {}, said("drop")), button(said("choose"), () => input.click(), { class: "main", id: "choose" }), input);
  return zone;
}

// read is a file as the desk keeps it.
export const read = async file => ({ name: file.name, bytes: new Uint8Array(await file.arrayBuffer()) });

// folderPart offers the files of the folder that the program was started with.
function folderPart({ desk, tell }, take) {
  const { name, files } = desk.folder;
  if (!name || !files.length) return null;
  const use = async one => {
    try {
      const { files: came } = await ask("take", { names: [one] });
      await take(came.map(({ name, bytes }) => ({ name, bytes })));
    } catch (problem) {
      tell(problem.message);
    }
  };
  return h("section", { id: "folder" }, h("h2", {}, said("in-folder", { name })), h("table", {}, h("tbody", {}, files.map(f => h("tr", {},
    h("td", {}, f.name), h("td", {}, button(said("use-word"), () => use(f.name), { "aria-label": said("use", { name: f.name }), "data-use": f.name })))))));
}

// cameTable says of each file what it is, and lets people say otherwise.
function cameTable(app, changed) {
  const { desk } = app;
  if (!desk.files.length) return [];
  const row = f => h("tr", { "data-file": f.name }, h("td", {}, f.name), h("td", { class: f.look.wrong ? "bad" : null }, foundIn(f.look)),
    h("td", {}, h("select", { "aria-label": said("role-of", { name: f.name }), onchange: e => { f.role = e.target.value; changed(); } },
      rolesOf(desk).map(r => h("option", { value: r, selected: r === f.role }, said(`role-${r}`))))),
    h("td", {}, button(said("remove"), () => { desk.files.splice(desk.files.indexOf(f), 1); changed(); }, { "aria-label": said("remove-of", { name: f.name }) })));
  return [h("h2", {}, said("came")), h("div", { class: "scroll" }, h("table", { id: "came" },
    h("thead", {}, h("tr", {}, ["file", "what-it-is", "role"].map(k => h("th", { scope: "col" }, said(k))), h("td", {}))),
    h("tbody", {}, desk.files.map(row)))), ...unnamed(desk).map(f => columnsPart(app, f, changed))];
}

function foundIn({ role, fields, rows, columns, wrong, hint }) {
  if (wrong && columns.length) return said("found-columns");
  if (wrong) return said("found-none", { why: [wrong, hint].filter(Boolean).join(". ") });
  if (role === "counts") return said("found-counts", { n: rows });
  if (role === "season" || role === "keep-off") return said(`found-${role}`);
  return said(fields.length === 1 ? "found-field" : "found-fields", { n: fields.length, names: fields.map(f => f.name).join(", ") });
}

const MEANINGS = ["stop", "latitude", "longitude", "latitude_longitude", "longitude_latitude", "count", "leaves", "date", "stage"];

// columnsPart asks which column is which where a file has names of its own. What the
// engine proposes is chosen already.
function columnsPart(app, file, changed) {
  const { desk } = app, named = new Map((desk.reading.map ?? []).map(m => m.split("=").reverse()));
  for (const [, column, meaning] of file.look.wrong.matchAll(/--map "([^"=]+)=(\w+)"/g)) if (!named.has(meaning)) named.set(meaning, column);
  const read = async () => {
    desk.reading.map = [...named].map(([meaning, column]) => `${column}=${meaning}`);
    await bring(desk, [{ name: file.name, bytes: file.bytes, role: file.role }]).catch(problem => app.tell(problem.message));
    changed();
  };
  const put = (meaning, column) => column ? named.set(meaning, column) : named.delete(meaning);
  return h("section", { class: "notice", "data-columns": file.name }, h("h3", {}, said("columns-title")), h("p", {}, said("columns-hint")),
    h("div", { class: "pair" }, MEANINGS.map(meaning => h("label", { class: "control" }, h("span", {}, said(`column-${meaning}`)),
      h("select", { "data-column": meaning, onchange: e => put(meaning, e.target.value) }, h("option", { value: "" }, said("column-none")),
        file.look.columns.map(c => h("option", { value: c, selected: named.get(meaning) === c }, c)))))),
    h("div", { class: "row" }, button(said("read-columns"), read, { id: "read-columns", class: "main" })));
}

// checkRows asks the engine which rows cannot be read, and shows them.
async function checkRows(app, rows, command, recheck) {
  const { desk } = app;
  command.show([]);
  if (!of(desk, "counts").length || unnamed(desk).length) {
    desk.checked = null;
    rows.replaceChildren();
    return;
  }
  const ground = of(desk, "boundary").length === 1 ? ["boundary"] : [];
  try {
    const { facts } = await ask("check", given(desk.reading), sent(desk, "counts", ...BESIDE, ...ground));
    desk.checked = facts;
    fill(rows, rowsTable(app, facts, recheck));
    command.show([facts.command]);
  } catch (problem) {
    rows.replaceChildren(h("p", { class: "wrong" }, problem.message));
  }
}

function rowsTable(app, facts, recheck) {
  const { desk } = app, head = h("p", {}, said("rows-used", facts));
  const notes = facts.notes.length ? h("details", {}, h("summary", {}, said("understood")), h("ul", {}, facts.notes.map(n => h("li", {}, n)))) : null;
  if (!facts.rows.length) return [h("h2", {}, said("rows-title")), head, h("p", {}, said("rows-none")), notes];
  return [h("h2", {}, said("rows-title")), head, swapPart(desk, facts, recheck), h("div", { class: "scroll" }, h("table", { id: "problems" },
    h("thead", {}, h("tr", {}, ["file", "row", "column", "was", "problem", corrects(desk) ? "now" : ""].filter(Boolean).map(k => h("th", { scope: "col", class: "close" }, said(k))))),
    h("tbody", {}, facts.rows.map(r => problemRow(desk, r, recheck))))), notes];
}

// swapPart offers to read positions with latitude and longitude exchanged, where the rows
// say that this would do.
function swapPart(desk, facts, recheck) {
  const offered = facts.rows.some(r => /--fix swap|swapped/.test(r.what + r.fix)) || desk.reading.fix?.includes("swap");
  if (!offered) return null;
  const id = "fix-swap";
  return h("div", { class: "check" }, h("input", { type: "checkbox", id, checked: desk.reading.fix?.includes("swap"), onchange: e => { desk.reading.fix = e.target.checked ? ["swap"] : []; recheck(); } }), h("label", { for: id }, said("fix-swap")));
}

// problemRow is a row with what it says, what is wrong, and what to read in its place.
function problemRow(desk, r, recheck) {
  const input = h("input", { type: "text", autocomplete: "off", "aria-label": said("now-of", r), id: `now-${r.line}-${r.column}`, "data-now": `${r.line}:${r.column}`, onchange: e => {
    const now = e.target.value.trim();
    if (now === "") return;
    correct(desk, { file: r.file, line: r.line, column: ownName(desk, r.column), was: r.value, now, why: r.what });
    recheck();
  } });
  return h("tr", { class: r.refused ? "refused" : null }, h("td", { class: "close" }, r.file), h("td", { class: "number" }, String(r.line)), h("td", { class: "close" }, r.column),
    h("td", { class: r.refused ? "bad" : null }, r.value), h("td", {}, r.what, r.fix ? h("small", {}, ` ${onPage(r.fix)}`) : null, h("small", {}, ` (${said(r.refused ? "left-out" : "doubted")})`)),
    corrects(desk) ? h("td", {}, r.column && !r.finding ? input : null) : null);
}

// ownName is what the file itself calls a column.
function ownName(desk, column) {
  const named = (desk.reading.map ?? []).find(m => m.endsWith(`=${column}`));
  return named ? named.slice(0, -column.length - 1) : column;
}

function correctionsPart(desk, recheck) {
  if (!desk.corrections.length) return [];
  return [h("h2", {}, said("corrections")), h("p", {}, said("corrections-hint")), h("ul", {}, desk.corrections.map(c => h("li", {}, said("correction-line", c), " ",
    button(said("drop-correction"), () => { desk.corrections.splice(desk.corrections.indexOf(c), 1); recheck(); }, { "aria-label": said("drop-correction-of", c) })))),
  button(said("save-corrections"), () => save(fileOf("corrections.csv", "text/csv", listOf(desk.corrections))), { id: "save-corrections" })];
}
