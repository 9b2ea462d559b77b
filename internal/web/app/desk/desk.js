// What is on the desk: the files that came, what is asked, and what came of it. Views read
// it and change it; whoever changes it says so.
import { call } from "../reach.js";
import { openDays } from "./days.js";
import { said } from "./words.js";

// empty is a desk with nothing on it.
export const empty = () => ({
  files: [], folder: { name: "", files: [], season: "", sprayed: [], named: [] }, settings: {}, reading: {}, corrections: [], job: { swath: "" }, setBacks: {},
  checked: null, map: null, picked: null, handed: null, season: null, without: [], records: {}, recording: "", drawing: null, drawn: null,
});

// ask is one call; what the engine finds wrong is an Error with its words and how to fix it, and
// the setting that answers it where it is a question.
export async function ask(what, settings = {}, files = [], signal) {
  const reply = await call(what, settings, files, signal).catch(problem => { throw reached(problem); });
  if (reply.error) throw Object.assign(new Error([reply.error.message.replaceAll("\n", "; "), reply.error.hint].filter(Boolean).join(". ").replace("?. ", "? ")), { setting: reply.error.setting });
  return reply;
}

// reached is why the program was not reached, in words that help.
function reached(problem) {
  if (problem.status === 401) return new Error(said("no-token"));
  if (problem instanceof TypeError) return new Error(said("no-program", { why: problem.message }));
  return problem;
}

// lookAgain asks what lies in the folder now.
export async function lookAgain(desk) {
  desk.folder = (await ask("folder")).facts;
}

// of are the files of a role.
export const of = (desk, role) => desk.files.filter(f => f.role === role);

// sent are files of roles as a call takes them, with the corrections where there are any.
export function sent(desk, ...roles) {
  const files = desk.files.filter(f => roles.includes(f.role)).map(({ role, name, bytes }) => ({ role, name, bytes }));
  if (desk.corrections.length && roles.includes("counts")) files.push({ role: "corrections", name: "corrections.csv", bytes: listOf(desk.corrections) });
  return files;
}

const COLUMNS = ["file", "line", "column", "was", "now", "why"];

// correct keeps what to read in the place of a cell.
export function correct(desk, one) {
  const same = desk.corrections.findIndex(c => c.file === one.file && c.line === one.line && c.column === one.column);
  if (same >= 0) desk.corrections[same] = { ...one, was: desk.corrections[same].was };
  else desk.corrections.push(one);
}

// listOf is the list of corrections as CSV (RFC 4180, with line feeds).
export const listOf = corrections => [COLUMNS, ...corrections.map(c => COLUMNS.map(k => c[k] ?? ""))].map(row => row.map(cell).join(",") + "\n").join("");

// listIn reads such a list; null where a file is none.
function listIn(bytes) {
  const text = new TextDecoder().decode(bytes).replace(/^\uFEFF/, "").replaceAll("\r\n", "\n");
  if (!text.startsWith(COLUMNS.join(",") + "\n")) return null;
  const rows = [[""]];
  let quoted = false;
  for (let i = 0; i < text.length; i++) {
    const c = text[i], row = rows.at(-1);
    if (quoted && c === '"' && text[i + 1] === '"') row[row.length - 1] += text[++i];
    else if (c === '"') quoted = !quoted;
    else if (c === "," && !quoted) row.push("");
    else if (c === "\n" && !quoted) rows.push([""]);
    else row[row.length - 1] += c;
  }
  return rows.slice(1).filter(r => r.length >= 5).map(r => ({ ...Object.fromEntries(COLUMNS.map((k, i) => [k, r[i] ?? ""])), line: Number(r[1]) }));
}

const cell = value => /[",\r\n]/.test(String(value)) ? `"${String(value).replaceAll('"', '""')}"` : String(value);

// given are settings without those that nobody gave.
export const given = settings => Object.fromEntries(Object.entries(settings).filter(([, v]) => v !== undefined && v !== null && v !== "" && v !== false && !(Array.isArray(v) && !v.length)));

// bring takes files in, by what they are found to be. One of a name that is there already
// takes its place. A list of corrections is taken into the one that is there.
export async function bring(desk, came) {
  const lists = came.map(f => [f, listIn(f.bytes)]);
  for (const c of lists.flatMap(([, list]) => list ?? [])) correct(desk, c);
  came = lists.filter(([, list]) => !list).map(([f]) => f);
  if (!came.length) return;
  const { facts } = await ask("look", given(desk.reading), came.map(f => ({ role: "", ...f })));
  came.forEach((f, i) => {
    const look = facts.files[i], at = desk.files.findIndex(o => o.name === f.name);
    const file = { ...f, look, role: f.role ?? look.role };
    if (at >= 0) desk.files[at] = file;
    else desk.files.push(file);
  });
}

// BESIDE are the roles of files that counts are read with.
export const BESIDE = ["rules", "observers", "schema", "fields", "places"];

// corrects says whether counts are read with a list of corrections.
export const corrects = desk => desk.folder.named.includes("corrections");

// unnamed are the files of counts whose columns nobody has told apart yet. With places of
// its own a file need not have them.
export const unnamed = desk => of(desk, "places").length ? [] : of(desk, "counts").filter(f => f.look.wrong && f.look.columns.length);

// missing is what is still needed for an answer, by a key of words; "" where nothing is.
export function missing(desk) {
  if (!of(desk, "counts").length) return "needs-counts";
  if (unnamed(desk).length) return "needs-columns";
  if (openDays(desk)) return "needs-day";
  const n = of(desk, "boundary").length;
  return n === 0 ? "needs-boundary" : n > 1 ? "one-boundary" : "";
}

// latest runs one call at a time: a new one gives up the one before, which then comes to
// nothing.
export function latest() {
  let control = null;
  return async work => {
    control?.abort();
    const own = control = new AbortController();
    try {
      const value = await work(own.signal);
      return own === control ? { value } : null;
    } catch (problem) {
      return own === control && problem.name !== "AbortError" ? { problem } : null;
    }
  };
}

// fill puts other children into an element; what is null or false is none. Who works by
// keyboard stays at the control of the same id.
export function fill(element, ...children) {
  const at = element.contains(document.activeElement) ? document.activeElement.id : "";
  element.replaceChildren(...children.flat(Infinity).filter(c => c !== null && c !== undefined && c !== false));
  if (at) document.getElementById(at)?.focus({ preventScroll: true });
}

// onPage says what to do here where the command line has a flag.
export const onPage = fix => fix.replace(/give --fix swap to read it so, or correct the file/, said("fix-tick")).replace(/give --fix \w+ to read it so, or /, "");
