// Before, the rule: which one, at which stage, and so what is counted.
import { protocolOf, ruleOf, rules, stagesOf } from "../calls.js";
import { h, labelled } from "../dom.js";
import { asksOf, drawingOf } from "../protocol.js";
import { stageChoice } from "../stages.js";
import { say } from "../words.js";

const setField = (app, field, values) => app.keep(() => ({ kind: "field", field: field.id, values }));

// rulePart chooses stage and rule, and says what to count.
export function rulePart(app, field, what, redo) {
  const stage = h("div"), rule = h("select", { id: "rule" });
  const tell = async () => {
    const p = await protocolOf(field).catch(() => null);
    what.replaceChildren(...(p ? toldWhat(p) : []));
    choice.hidden = !p?.choice;
  };
  rules().then(({ rules: all }) => {
    const chosen = ruleOf(all, field), stages = stagesOf(chosen);
    rule.replaceChildren(...[...new Set(all.map(r => r.pest))].map(pest => h("optgroup", { label: all.find(r => r.pest === pest).title.split(":")[0] }, all.filter(r => r.pest === pest).map(r =>
      h("option", { value: r.name, selected: r === chosen }, r.title)))));
    stage.replaceChildren(stageChoice(stages, stages.includes(field.stage) ? field.stage : stages[0], async k => { field.stage = k; await setField(app, field, { stage: k }); tell(); }));
    tell();
  }, () => {});
  rule.addEventListener("change", async () => { await setField(app, field, { rule: rule.value, stage: "" }); redo(); });
  const how = h("select", { id: "how" }, ["yes", "numbers"].map(k => h("option", { value: k, selected: (k === "numbers") === Boolean(field.numbers) }, say(`how-${k}`))));
  how.addEventListener("change", async () => { field.numbers = how.value === "numbers"; await setField(app, field, { numbers: field.numbers }); tell(); });
  const choice = labelled(say("how"), how);
  return h("section", {}, h("h2", {}, say("what-to-count")), h("div", { class: "stack" }, labelled(say("rule"), rule), stage, choice), what);
}

// toldWhat are the lines on what to count, or why nothing can be.
function toldWhat(p) {
  if (p.ask === "none") return [h("p", { class: "wrong" }, say("advice", { advice: p.advice }))];
  return [h("div", { class: "what" }, h("div", {}, asksOf(p).map(line => h("p", {}, line))), drawingOf(p, p.stage, ["lower", "upper"])), p.how ? h("p", { class: "quiet" }, h("cite", {}, p.how)) : "",
    h("p", { class: "quiet" }, say("source"), " ", h("cite", { lang: "en" }, p.source)), h("p", { class: "quiet" }, p.caution)];
}
