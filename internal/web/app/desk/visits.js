// Counts of several days may be one walk or two visits: who counted says which.
import { h } from "../dom.js";
import { tick } from "./control.js";
import { said } from "./words.js";

// visitsPart asks where the engine does, and stays where it was answered, to be taken back.
export function visitsPart(desk, asked, changed) {
  const one = Boolean(desk.reading["one-visit"]);
  if (!asked && !one) return [];
  return h("fieldset", { class: "notice", id: "which-visit" }, h("legend", {}, said("which-visit")), h("p", {}, said("which-visit-hint")),
    tick(said("it-is-one-visit"), one, on => { desk.reading["one-visit"] = on; changed(); }, { id: "one-visit" }));
}
