// Hand over: the job for the sprayer, and its files by what a machine takes.
import { button, h, s } from "../dom.js";
import { answer, legendOf, mapRoles, outlineOf, saveButton, settingsOf, shownField, stopsOf } from "./answer.js";
import { read } from "./bring.js";
import { commandPart } from "./command.js";
import { field, pick } from "./control.js";
import { drawPart, tapping } from "./drawing.js";
import { ask, bring, fill, given, latest, missing, of, sent } from "./desk.js";
import { recordPart } from "./record.js";
import { isPlace, picture } from "./picture.js";
import { said } from "./words.js";

// GROUPS are the files by what takes them.
const GROUPS = [["group-task", ["TASKDATA.zip"]], ["group-shape", ["ground.zip", "swaths.zip"]], ["group-gps", ["passes.gpx", "handoff.kmz", "handoff.kml"]],
  ["group-sheet", ["jobsheet.pdf", "jobsheet.html"]], ["group-data", ["handoff.gpkg", "ground.geojson", "swaths.geojson", "passes.geojson", "switches.geojson", "keep_off.geojson", "left_out.geojson", "handoff.json"]]];

export function handOver(app) {
  const { desk } = app;
  if (missing(desk)) return answer(app);
  const map = h("section", { id: "job-map" }), says = h("section", { id: "says", role: "status" }), files = h("section", { id: "job-files" }), record = h("section", {}), command = commandPart(), run = latest();
  const drawMap = () => fill(map, jobMap(desk, heading => { desk.job.heading = heading; form.heading(heading); work(); }));
  const show = async () => {
    desk.map ??= await ask("map", settingsOf(desk), sent(desk, ...mapRoles));
    drawMap();
    fill(says, desk.handed ? sayings(desk.handed.facts) : []);
    fill(files, desk.handed ? filesPart(app) : []);
    const shown = (more = []) => command.show(desk.handed && [...desk.handed.facts.commands, ...more], desk.handed?.facts.settings);
    fill(record, recordPart(app, line => shown([line])));
    shown();
  };
  const work = async () => {
    const open = of(desk, "keep-off").find(f => !desk.setBacks[f.name]); // how far is nobody's to guess
    if (!desk.job.swath || open) {
      desk.handed = null;
      await show().catch(problem => app.tell(problem.message));
      if (open) fill(says, h("p", { class: "wrong" }, said("set-back-missing", { name: open.name })));
      return;
    }
    map.classList.add("busy");
    const done = await run(signal => ask("handoff", { map: given({ ...settingsOf(desk), write: undefined }), job: jobOf(desk) }, [...sent(desk, ...mapRoles), ...sent(desk, "keep-off")], signal));
    if (!done) return;
    map.classList.remove("busy");
    desk.handed = done.problem ? null : done.value;
    await show().catch(problem => app.tell(problem.message));
    app.tell("");
    if (done.problem) says.replaceChildren(h("p", { class: "wrong" }, done.problem.message));
    document.getElementById("screen").dataset.handed = String(++handed);
  };
  const form = jobForm(app, work, () => drawMap());
  work();
  return { element: [h("div", { class: "columns answer" }, form.part, map, h("div", {}, says, files)), record, command.part] };
}

let handed = 0;

const sayings = facts => [facts.says.map(line => h("p", {}, line)), h("ul", { class: "quiet" }, facts.cautions.map(line => h("li", {}, line)))];

// jobOf are the settings of the job as the engine takes them.
function jobOf(desk) {
  const { which, products, ...job } = desk.job;
  const lines = (products ?? "").split("\n").map(l => l.trim()).filter(Boolean);
  return given({
    ...job, product: lines, gate: job.gate ? [job.gate] : [], heading: job.heading === "" || job.heading === undefined ? undefined : Number(String(job.heading).replace(",", ".")),
    sections: job.sections ? Number(job.sections) : undefined, "keep-off": of(desk, "keep-off").map(f => `${f.name}=${desk.setBacks[f.name]}`),
    [which || "none"]: which ? true : undefined, units: desk.settings.units,
  });
}

function jobForm(app, work, redraw) {
  const { desk } = app, { job } = desk;
  const put = name => value => { job[name] = value; work(); };
  const text = (name, more) => field(said(name), job[name] ?? "", put(name), { hint: said(`${name}-hint`), id: `job-${name}`, ...more });
  const heading = text("heading", { inputmode: "decimal" });
  const products = h("label", { class: "control" }, h("span", {}, said("product")), h("textarea", { rows: 2, id: "job-product", onchange: e => put("products")(e.target.value), value: job.products ?? "" }), h("small", {}, said("product-hint")));
  const part = h("section", { class: "stack", id: "job" }, h("h2", {}, said("job")), h("p", {}, said("label")), text("swath"), heading, text("rate"), text("tank"), products,
    field(said("sections"), job.sections ?? "", put("sections"), { inputmode: "numeric", id: "job-sections" }),
    h("label", { class: "control" }, h("span", {}, said("spray-on")), h("input", { type: "date", id: "job-spray-on", value: job["spray-on"] ?? "", onchange: e => put("spray-on")(e.target.value) })),
    pick(said("which"), [["", said("as-said")], ...["red-only", "whole-field", "fallback", "against-verdict"].map(k => [k, said(k)])], job.which, put("which"), { id: "job-which" }),
    keepOffPart(app, work, redraw),
    h("details", {}, h("summary", {}, said("more-job")), h("div", { class: "stack" }, text("speed"), text("lag"), text("gate"))));
  return { part, heading: value => { heading.querySelector("input").value = value; } };
}

// keepOffPart takes files of ground that is kept off, dropped or drawn, and how far to stay
// away.
function keepOffPart(app, work, redraw) {
  const { desk } = app, part = h("section", { id: "keep-off" });
  const input = h("input", { type: "file", multiple: true, hidden: true, id: "keep-off-files", onchange: async e => {
    try {
      await bring(desk, (await Promise.all([...e.target.files].map(read))).map(f => ({ ...f, role: "keep-off" })));
    } catch (problem) {
      app.tell(problem.message);
    }
    show();
    work();
  } });
  const drop = f => { desk.files.splice(desk.files.indexOf(f), 1); show(); work(); };
  const leaveOut = async name => {
    try {
      const { files } = await ask("take", { names: [name] });
      await bring(desk, files.map(f => ({ name: f.name, bytes: f.bytes, role: "keep-off" })));
      desk.setBacks[name] = "0m"; // the ground itself
    } catch (problem) {
      app.tell(problem.message);
    }
    show();
    work();
  };
  const again = () => desk.folder.sprayed.filter(f => !of(desk, "keep-off").some(k => k.name === f.name)).map(f => h("p", { class: "wrong", "data-sprayed": f.name },
    `${f.says} `, button(said("leave-ground"), () => leaveOut(f.name), { "aria-label": said("leave-ground-of", { name: f.name }) })));
  const show = () => fill(part, h("h3", {}, said("keep-offs")), again(), of(desk, "keep-off").map(f => [
    field(said("set-back", { name: f.name }), desk.setBacks[f.name] ?? "", v => { desk.setBacks[f.name] = v; work(); }, { hint: said("swath-hint"), "data-set-back": f.name }),
    button(said("remove"), () => drop(f), { "aria-label": said("remove-of", { name: f.name }), "data-remove": f.name })]),
  h("div", { class: "row" }, button(said("keep-off-drop"), () => input.click(), { id: "add-keep-off" })), drawPart(app, () => { show(); redraw(); }, work), input);
  show();
  return part;
}

// jobMap draws the job over its field; a line that is dragged gives the passes' direction.
function jobMap(desk, turn) {
  const found = shownField(desk);
  if (!found) return [];
  const layer = name => {
    const file = desk.handed?.files.find(f => f.name === `${name}.geojson`);
    return file ? JSON.parse(new TextDecoder().decode(file.bytes)).features.filter(f => f.properties.field === found.name) : [];
  };
  const job = { swaths: layer("swaths"), passes: layer("passes"), off: layer("keep_off"), left: layer("left_out").filter(isPlace) }, outline = outlineOf(desk, found.name);
  const drawn = picture({ outline, zones: found.zones, stops: stopsOf(desk, found.name).filter(f => f.properties.not_read), job, label: said("map-of", found) });
  if (desk.drawing) tapping(drawn, desk);
  else dragging(drawn, turn);
  const more = [job.swaths.length ? ["swath", "legend-swath"] : null, job.passes.length ? ["pass", "legend-pass"] : null, job.off.length ? ["off", "legend-off"] : null, job.left.length ? ["left", "legend-left"] : null].filter(Boolean);
  return [drawn.svg, legendOf(found.zones, [], more)];
}

// dragging gives the bearing of a line that is dragged along the rows, to half a degree,
// from 0 up to 180. The picture is true to angles, with north up.
function dragging({ svg }, turn) {
  let from = null, line = null;
  const at = e => new DOMPoint(e.clientX, e.clientY).matrixTransform(svg.getScreenCTM().inverse());
  svg.classList.add("drags");
  svg.addEventListener("pointerdown", e => {
    from = at(e);
    line = s("path", { class: "drawn" });
    svg.append(line);
    svg.setPointerCapture(e.pointerId);
  });
  svg.addEventListener("pointermove", e => {
    if (from) line.setAttribute("d", `M${from.x} ${from.y}L${at(e).x} ${at(e).y}`);
  });
  svg.addEventListener("pointerup", e => {
    if (!from) return;
    const to = at(e), long = Math.hypot(to.x - from.x, to.y - from.y);
    if (long > 20) turn(String(bearing(to.x - from.x, from.y - to.y)));
    else line.remove();
    from = null;
  });
}

// bearing is that of a line without a direction, in degrees clockwise from north.
export const bearing = (east, north) => ((Math.round(2 * Math.atan2(east, north) * 180 / Math.PI) / 2) % 180 + 180) % 180;

// filesPart are the files by what takes them, and the way onto a stick.
function filesPart(app) {
  const { files } = app.desk.handed, named = name => files.find(f => f.name === name);
  const groups = GROUPS.map(([title, names]) => [title, names.map(named).filter(Boolean)]).filter(([, all]) => all.length);
  return [h("h2", {}, said("for-machines")), groups.map(([title, all]) => title === "group-data" ? h("details", {}, h("summary", {}, said(title)), h("div", { class: "row" }, all.map(saveButton)))
    : h("div", { class: "group" }, h("h3", {}, said(title)), title === "group-task" ? stickPart(app) : null, h("div", { class: "row" }, all.map(saveButton)))),
    named("TASKDATA.zip") ? null : h("p", {}, said("stick-none"))].flat();
}

// stickPart writes the task data onto a stick, where the browser lets pages write.
function stickPart(app) {
  const done = h("p", { role: "status" });
  if (!window.showDirectoryPicker) return h("p", {}, said("stick-zip"));
  const write = async () => {
    try {
      const stick = await window.showDirectoryPicker({ mode: "readwrite" });
      const { files } = await ask("unpack", {}, [{ role: "archive", name: "TASKDATA.zip", bytes: app.desk.handed.files.find(f => f.name === "TASKDATA.zip").bytes }]);
      for (const f of files) await put(stick, f.name.split("/"), f.bytes);
      done.textContent = said("stick-done", { name: stick.name });
    } catch (problem) {
      if (problem.name !== "AbortError") app.tell(problem.message);
    }
  };
  return h("div", {}, h("p", {}, said("stick-hint")), button(said("stick"), write, { id: "stick" }), done, h("p", {}, said("stick-zip")));
}

// put writes a file below a folder, with the folders on its way.
async function put(folder, [name, ...rest], bytes) {
  if (rest.length) return put(await folder.getDirectoryHandle(name, { create: true }), rest, bytes);
  const stream = await (await folder.getFileHandle(name, { create: true })).createWritable();
  await stream.write(bytes);
  await stream.close();
}
