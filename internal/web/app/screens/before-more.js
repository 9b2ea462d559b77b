// Before, what else is known of a field, and of who walks it.
import { button, h, labelled } from "../dom.js";
import { measureIn } from "../measure.js";
import { combine } from "../position.js";
import { weekOf } from "../week.js";
import { say } from "../words.js";

const set = (app, values) => app.keep(() => ({ kind: "set", values }));
const setField = (app, field, values) => app.keep(() => ({ kind: "field", field: field.id, values }));

// morePart is folded away: nothing of it is needed to walk.
export function morePart(app, field, redo) {
  const text = (key, of, put) => labelled(say(key), h("input", { type: key === "rows" ? "number" : "text", id: `my-${key}`, value: of ?? "", min: key === "rows" ? 0 : null, max: key === "rows" ? 360 : null, autocomplete: "off", onchange: e => put(e.target.value) }));
  const at = h("p", { class: "quiet", role: "status" }, field.gate ? say("gate-kept") : "");
  const gate = button(say("gate-here"), () => navigator.geolocation?.getCurrentPosition(async p => {
    const fix = combine([{ longitude: p.coords.longitude, latitude: p.coords.latitude, accuracy: p.coords.accuracy }]);
    await setField(app, field, { gate: fix });
    at.textContent = say("gate-kept");
  }, () => { at.textContent = say("no-position"); }, { enableHighAccuracy: true, timeout: 20000 }), { id: "gate" });
  const week = h("input", { type: "file", id: "week", hidden: true, onchange: async e => {
    try {
      const found = weekOf(await e.target.files[0].text(), field.name);
      await setField(app, field, { week: found });
      weekSaid.textContent = weekWords(found);
      app.tell("");
    } catch (problem) {
      app.tell(problem.message);
    }
  } });
  const weekSaid = h("p", { class: "quiet", role: "status" }, field.week ? weekWords(field.week) : "");
  return h("details", {}, h("summary", {}, say("more-field")), h("div", { class: "stack" },
    text("name", field.name, v => setField(app, field, { name: v })),
    text("grower", field.grower, v => setField(app, field, { grower: v })),
    text("observer", app.state.settings.observer, v => set(app, { observer: v })),
    text("rows", field.rows, v => setField(app, field, { rows: v })),
    gate, at, week, button(say("last-week"), () => week.click(), { id: "load-week" }), h("small", {}, say("last-week-hint")), weekSaid,
    units(app),
    button(say("remove-field"), async () => { await app.keep(() => ({ kind: "field-gone", field: field.id })); redo(); }, { id: "remove" })));
}

const weekWords = week => say(week.length ? "last-week-kept" : "last-week-clean");

function units(app) {
  const choice = h("select", { id: "units", onchange: e => { measureIn(e.target.value); set(app, { units: e.target.value }); } }, ["us", "metric"].map(u => h("option", { value: u, selected: app.state.settings.units === u }, say(`units-${u}`))));
  return labelled(say("units"), choice);
}
