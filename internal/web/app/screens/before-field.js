// Before, the field: which one, and how one is added.
import { boundary } from "../calls.js";
import { button, h } from "../dom.js";
import { fieldsOf } from "../log.js";
import { say } from "../words.js";

// chosenField is the field that was chosen, else the last.
export function chosenField(app) {
  const all = fieldsOf(app.state);
  return all.find(f => f.id === app.state.settings.field) ?? all.at(-1) ?? null;
}

// fieldPart chooses among the fields that are kept, or adds one. redo shows the screen anew.
export function fieldPart(app, chosen, redo) {
  return h("section", {}, h("h2", {}, say("field")), fieldList(app, chosen, redo), addField(app, redo));
}

const set = (app, values) => app.keep(() => ({ kind: "set", values }));

function fieldList(app, chosen, redo) {
  const all = fieldsOf(app.state);
  if (!all.length) return h("p", {}, say("no-field"));
  return h("fieldset", { class: "choices" }, h("legend", { class: "hidden" }, say("field")), all.map(f =>
    h("label", { class: "choice" }, h("input", { type: "radio", name: "field", id: `field-${f.id}`, checked: f === chosen, onchange: async () => { await set(app, { field: f.id }); redo(); } }), h("span", {}, f.name))));
}

function addField(app, redo) {
  const file = h("input", { type: "file", id: "boundary", hidden: true, multiple: true, onchange: async e => {
    try {
      const found = await boundary([...e.target.files]);
      for (const f of found) await app.keep(() => ({ kind: "field", field: crypto.randomUUID(), values: { name: f.name, geometry: f.geometry } }));
      await set(app, { field: [...app.state.fields.keys()].at(-1) });
      redo();
    } catch (problem) {
      app.tell(problem.message);
    }
  } });
  return h("div", { class: "stack" }, file, button(say("load"), () => file.click(), { id: "load", class: fieldsOf(app.state).length ? null : "main" }),
    h("small", {}, say("load-hint")), button(say("make-field"), () => app.go("make"), { id: "make" }));
}
