// The growth stages as a choice, each drawn with the leaves to look at then.
import { plant } from "./drawings.js";
import { h } from "./dom.js";
import { say } from "./words.js";

const DRAWN = ["pre-boot", "boot", "bloom to milk", "dough", "black layer"];

// stageName is a growth stage in words; rules for other crops name theirs themselves.
export const stageName = stage => DRAWN.includes(stage) ? say(`stage-${stage}`) : stage;

// stageChoice chooses among stages; none is any. Where all have a drawing they are drawn.
// chosen is the one that holds; changed is told another.
export function stageChoice(stages, chosen, changed) {
  const drawn = stages.length && stages.every(k => DRAWN.includes(k));
  const one = k => h("label", { class: "choice" }, h("input", { type: "radio", name: "stage", id: `stage-${k.replaceAll(" ", "-")}`, value: k, checked: k === chosen, onchange: () => changed(k) }),
    drawn ? plant(k, ["lower", "upper"]) : null, h("span", {}, k ? stageName(k) : say("stage-any")));
  const all = stages.length ? stages.map(one) : [one("")];
  if (!stages.length) all[0].querySelector("input").checked = true;
  return h("fieldset", { id: "stage", class: drawn ? "stages drawn-stages" : "stages" }, h("legend", {}, say("stage")), all);
}
