// Make: a boundary on the spot, walked round, tapped at its corners, or as a centre pivot.
import { drawn } from "../calls.js";
import { button, h, labelled } from "../dom.js";
import { watch } from "../locator.js";
import { fieldMap } from "../map.js";
import { area } from "../measure.js";
import { apart, crosses, outlineOf, sizeOf } from "../outline.js";
import { stayAwake } from "../wake.js";
import { say } from "../words.js";

export function make(app) {
  const made = () => app.state.draft; // kept point by point: a long way round is not walked twice
  const keepPoint = async (fix, tapped) => {
    await app.keep(() => {
      const { way: kind, walking, points } = made();
      if (!tapped && !(walking && apart(points.at(-1), fix))) return null;
      return { kind: "draft-point", place: { longitude: fix.longitude, latitude: fix.latitude, accuracy: fix.accuracy }, walking: kind === "walk" };
    });
    update();
  };
  const how = h("p"), status = h("p", { role: "status", id: "points" }), drawing = h("div"), wrong = h("p", { class: "wrong", role: "alert" });
  const name = h("input", { type: "text", id: "new-name", autocomplete: "off", required: true });
  const way = h("select", { id: "make-way", onchange: async () => { await app.keep(() => ({ kind: "draft", way: way.value })); update(); } },
    ["walk", "corners", "pivot"].map(w => h("option", { value: w, selected: w === made().way }, say(`make-${w}`))));
  const main = button("", () => app.fix && keepPoint(app.fix, true), { class: "main wide", id: "point" });
  const back = button(say("take-back"), async () => { await app.keep(() => ({ kind: "draft-back" })); update(); }, { id: "take-back" });
  const end = watch(fix => {
    app.fix = fix;
    if (wrong.textContent === say("no-position")) wrong.textContent = "";
    if (made().walking) keepPoint(fix, false);
    update();
  }, () => { wrong.textContent = say("no-position"); });
  const update = () => {
    const { way: kind, points, walking } = made(), geometry = outlineOf(kind, points);
    how.textContent = say(`make-${kind}-how`);
    main.textContent = kind === "walk" ? say("start") : kind === "corners" ? say("this-corner") : points.length ? say("this-edge") : say("this-centre");
    main.hidden = kind === "walk" && walking || kind === "pivot" && points.length === 2;
    main.disabled = !app.fix;
    status.textContent = points.length ? say("points", { n: points.length, area: geometry ? area(sizeOf(geometry)) : "–" }) : say(app.fix ? "no-points" : "looking");
    drawing.replaceChildren(...(geometry ? [fieldMap({ geometry, here: app.fix, label: say("make") }).svg] : []));
    back.disabled = !points.length;
  };
  const keepIt = async () => {
    const geometry = outlineOf(made().way, made().points);
    wrong.textContent = !name.value.trim() ? say("named-field") : !geometry ? say("too-few") : crosses(geometry) ? say("crossing") : "";
    if (wrong.textContent) return;
    const field = crypto.randomUUID();
    const sound = await drawn(settingsOf(made(), name.value.trim())).catch(e => { wrong.textContent = e.message; return app.failed ? geometry : null; });
    if (!sound) return;
    await app.keep(() => ({ kind: "field", field, values: { name: name.value.trim(), geometry: sound, made: made().way } }));
    await app.keep(() => ({ kind: "set", values: { field } }));
    app.go("before");
  };
  stayAwake(true);
  update();
  const element = [h("header", {}, h("h1", {}, say("make"))), labelled(say("make-way"), way), how, drawing, status,
    h("div", { class: "stack" }, main, back, labelled(say("name"), name), wrong, button(say("save-field"), keepIt, { class: "wide", id: "save-field" }), button(say("back-before"), () => app.go("before")))];
  return { element, update, leave: () => { end(); stayAwake(false); } };
}

// settingsOf are the points as the engine takes them.
function settingsOf({ way, points }, name) {
  const at = points.map(p => [p.longitude, p.latitude]);
  return way === "pivot" ? { name, centre: at[0], edge: at[1] } : { name, corners: at };
}
