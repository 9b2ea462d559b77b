// Ground to keep off that is drawn on the map: corners are tapped, or typed by who has no
// pointer. The list of corners is what counts; the map shows it.
import { button, h, labelled, s } from "../dom.js";
import { field, tick } from "./control.js";
import { ask, bring, lookAgain } from "./desk.js";
import { saveButton } from "./answer.js";
import { said } from "./words.js";

const DECIMALS = 6; // of degrees: 0.1 m

// begun is a drawing of nothing.
const begun = () => ({ name: "", setBack: "", corners: "", line: false });

// drawPart asks for a drawing, or is one under way. changed() is told when the map has to
// be drawn anew, made() when there is a file more.
export function drawPart(app, changed, made) {
  const { desk } = app;
  if (!desk.drawing) {
    const kept = desk.drawn ? h("p", { role: "status", id: "drawn" }, desk.drawn.folder ? said("drawn-kept", desk.drawn) : saveButton(desk.drawn.file)) : null;
    return [button(said("draw"), () => { desk.drawing = begun(); changed(); document.getElementById("draw-name").focus(); }, { id: "draw" }), kept];
  }
  const d = desk.drawing, put = name => value => { d[name] = value; };
  const corners = h("textarea", { rows: 4, id: "draw-corners", value: d.corners, spellcheck: "false", onchange: e => { d.corners = e.target.value; show(desk); } });
  const stop = () => { desk.drawing = null; changed(); };
  const done = async () => {
    try {
      await keep(app);
      app.tell("");
      changed();
      made();
    } catch (problem) {
      app.tell(problem.message);
    }
  };
  return h("fieldset", { class: "notice stack", id: "drawing" }, h("legend", {}, said("draw-title")), h("p", {}, said("draw-hint")),
    field(said("draw-name"), d.name, put("name"), { id: "draw-name", hint: said("draw-name-hint") }),
    field(said("draw-set-back"), d.setBack, put("setBack"), { id: "draw-set-back", hint: said("swath-hint") }),
    labelled(said("draw-corners"), corners, said("gate-hint")),
    tick(said("draw-line"), d.line, value => { d.line = value; show(desk); }, { id: "draw-line" }),
    h("div", { class: "row" }, button(said("draw-back"), () => { put("corners")(listed(d.corners).slice(0, -1).join("\n")); corners.value = d.corners; show(desk); }, { id: "draw-back" }),
      button(said("draw-stop"), stop, { id: "draw-stop" }), button(said("draw-done"), done, { id: "draw-done", class: "main" })));
}

// keep makes the file of a drawing, in the folder where there is one.
async function keep({ desk }) {
  const { name, setBack, corners, line } = desk.drawing;
  if (!setBack) throw new Error(said("set-back-missing", { name: name || said("draw-title").toLowerCase() }));
  const { facts, files } = await ask("keep-off", { name, corners: listed(corners), line, taken: desk.files.map(f => f.name) });
  await bring(desk, [{ name: facts.name, bytes: files[0].bytes, role: "keep-off" }]);
  desk.setBacks[facts.name] = setBack;
  desk.drawn = { ...facts, file: files[0] };
  desk.drawing = null;
  if (facts.folder) await lookAgain(desk);
}

const listed = text => text.split("\n").map(l => l.trim()).filter(Boolean);

const NUMBER = String.raw`[+-]?\d+(?:\.\d+)?`, CORNER = new RegExp(`^(${NUMBER})[ ,]+(${NUMBER})$`);

// tapping adds a corner where the map is tapped, and shows those that are there.
export function tapping({ svg, view }, desk) {
  const layer = s("g", { class: "drawing" });
  svg.append(layer);
  svg.classList.add("drags");
  desk.showDrawing = () => {
    const { corners, line } = desk.drawing;
    const at = listed(corners).map(l => CORNER.exec(l)).filter(Boolean).map(m => view.at([Number(m[1]), Number(m[2])]));
    layer.replaceChildren(...at.length > 1 ? [s("path", { class: "drawn", d: "M" + at.map(p => p.join(" ")).join("L") + (line || at.length < 3 ? "" : "Z") })] : [], ...at.map(([cx, cy]) => s("circle", { class: "corner", cx, cy, r: 4 })));
  };
  svg.addEventListener("click", e => {
    const p = new DOMPoint(e.clientX, e.clientY).matrixTransform(svg.getScreenCTM().inverse());
    const corner = view.from([p.x, p.y]).map(v => v.toFixed(DECIMALS)).join(",");
    desk.drawing.corners = [...listed(desk.drawing.corners), corner].join("\n");
    document.getElementById("draw-corners").value = desk.drawing.corners;
    desk.showDrawing();
  });
  desk.showDrawing();
}

const show = desk => desk.showDrawing?.();
