// Noon: the answer of the engine in one sentence, the map, and why; then the files to share.
import { boundaryOf, map, rules, ruleOf, stagesOf } from "../calls.js";
import { corrected, correctionPart, pairsOn } from "../correction.js";
import { button, h, labelled } from "../dom.js";
import { pairsTable } from "../drill.js";
import { fileName, handOn, sharePart } from "../handing.js";
import { hasJob, jobSheet } from "../jobsheet.js";
import { legend, signs } from "../legend.js";
import { watch } from "../locator.js";
import { fieldMap } from "../map.js";
import { pictureOf } from "../picture.js";
import { fileOf } from "../share.js";
import { stageName } from "../stages.js";
import { counted, placeOf } from "../walk.js";
import { dayInWords, say, spoken } from "../words.js";

export function noon(app) {
  const w = app.walk(), field = app.state.fields.get(w.field), wishes = {};
  const status = h("p", { class: "sentence", role: "status", id: "answer" }), body = h("div", { id: "found" });
  const shown = { drawn: null, files: [] };
  const end = watch(fix => { app.fix = fix; shown.drawn?.move(fix); }, () => {});
  const work = async () => {
    if (!counted(w).length) {
      status.textContent = say("too-few-stops");
      return;
    }
    status.textContent = say("working");
    try {
      const { facts, files } = await map(field, w, wishes, app.state.settings.units, pairsOn(app));
      const found = facts.fields[0];
      Object.assign(shown, { files, found, facts, answer: corrected(app, w, found.answer) });
      shown.drawn = mapOf(app, w, field, found);
      status.textContent = shown.answer;
      body.replaceChildren(shown.drawn.svg, legend(found, field), reasons(found, facts), cautions(facts), sharing(app, w, field, shown));
    } catch (e) {
      status.textContent = say("cannot-map", { why: e.message });
      body.replaceChildren(sharing(app, w, field, { files: [] }));
    }
  };
  work();
  const element = [h("header", {}, h("h1", {}, say("noon")), h("p", { class: "quiet" }, `${field.name}, ${dayInWords(w.day)}`)), status, correctionPart(app, w, work), body,
    changes(w, field, wishes, work),
    h("div", { class: "stack" }, w.ended ? null : button(say("back-walk"), () => app.go("walk"), { id: "back-walk" }), button(say("back-before"), () => app.go("before"), { id: "fields" }))];
  return { element, update: () => {}, leave: end };
}

function mapOf(app, w, field, found) {
  const stops = counted(w).filter(v => placeOf(w, v)).map(v => ({ name: v.stop, ...placeOf(w, v), state: "done" }));
  return fieldMap({ geometry: field.geometry, stops, zones: found.zones, week: field.week ?? [], here: app.fix, label: found.answer });
}

// wordsOf is what the picture says beside the map.
const wordsOf = (w, field, { found, facts, answer }) => ({
  title: `${field.name}, ${dayInWords(w.day)}`, answer, legend: signs(found, field), heading: say("cautions"), cautions: facts.cautions,
});

// reasons are the engine's own sentences.
function reasons(found, facts) {
  const part = (key, lines) => lines.length ? [h("h2", {}, say(key)), h("ul", {}, lines.map(line => h("li", {}, line)))] : [];
  return h("section", {}, part("why", found.why), part("look-out", found.look_out), part("how-sure", found.sure), doubts([...facts.problems, ...facts.notes]));
}

// doubts are what the engine found in the table. It says so in English alone, so that in
// another language how many there are is said, and they are folded away.
function doubts(lines) {
  if (!lines.length) return "";
  const list = h("ul", { lang: "en" }, lines.map(line => h("li", {}, line)));
  if (spoken() === "en") return [h("h2", {}, say("read-wrong")), list];
  return [h("h2", {}, say("read-wrong")), h("details", {}, h("summary", {}, say("doubts", { n: lines.length })), list)];
}

// cautions stand wherever an answer may lead to a spraying.
const cautions = facts => h("section", { id: "cautions" }, h("h2", {}, say("cautions")), h("ul", {}, facts.cautions.map(line => h("li", {}, line))));

// sharing are the files that can be handed on. That counts are shared is urged.
function sharing(app, w, field, shown) {
  const of = name => shown.files.find(f => f.name === name);
  const file = (name, words) => of(name) && handOn(app, say(words), name, of(name).type, () => fileOf(name, of(name).type, of(name).bytes));
  return h("section", {}, h("h2", {}, say("share")), w.shared ? null : h("p", {}, say("share-urge")), sharePart(app, w),
    h("details", {}, h("summary", {}, say("more-files")), h("div", { class: "stack" },
      shown.drawn ? handOn(app, say("file-picture"), "map.png", "image/png", () => pictureOf(shown.drawn.svg, wordsOf(w, field, shown), "map.png")) : null,
      shown.found && hasJob(shown.found) ? handOn(app, say("file-job"), jobName(w, field), "text/html", () => fileOf(jobName(w, field), "text/html", jobSheet({ field, walk: w, found: shown.found, answer: shown.answer, cautions: shown.facts.all_cautions }))) : null,
      pairsOn(app).length ? handOn(app, say("file-pairs"), "pairs.csv", "text/csv", () => fileOf("pairs.csv", "text/csv", pairsTable(pairsOn(app)))) : null,
      file("zones.geojson", "file-zones"), file("zones.kml", "file-kml"),
      handOn(app, say("file-field"), "field.geojson", "application/geo+json", () => fileOf("field.geojson", "application/geo+json", boundaryOf(field).bytes)))));
}

const jobName = (w, field) => `job-${fileName(field.name)}-${w.day}.html`;

// changes are what the answer may go by instead; the map follows at once.
function changes(w, field, wishes, work) {
  const rule = h("select", { id: "noon-rule" }), stage = h("select", { id: "noon-stage" });
  const level = h("input", { type: "number", id: "noon-level", min: 0, step: "any", inputmode: "decimal" });
  rules().then(({ rules: all }) => {
    const same = all.filter(r => r.pest === w.protocol.pest && answers(r, w.protocol));
    rule.replaceChildren(...same.map(r => h("option", { value: r.name, selected: r.name === w.protocol.rule }, r.title)));
    const stages = () => {
      const r = ruleOf(all, { rule: rule.value });
      stage.replaceChildren(...stagesOf(r).map(k => h("option", { value: k, selected: k === (wishes.stage ?? w.stage) }, stageName(k))));
    };
    stages();
    rule.addEventListener("change", () => { wishes.rule = rule.value; stages(); wishes.stage = stage.value; work(); });
  }, () => {});
  stage.addEventListener("change", () => { wishes.stage = stage.value; work(); });
  level.addEventListener("change", () => { wishes["treat-at"] = level.value === "" ? undefined : Number(level.value); work(); });
  return h("details", {}, h("summary", {}, say("change")), h("div", { class: "stack" }, labelled(say("rule"), rule), labelled(say("stage"), stage), labelled(say("threshold"), level, say("threshold-hint"))));
}

// answers says whether what was counted can feed a rule: numbers a mean or a tally, yes or
// no a tally or a sign.
const answers = (rule, protocol) => rule.bands.some(b => (protocol.ask === "count" ? ["number", "over"] : ["over", "sign"]).includes(b.counted));
