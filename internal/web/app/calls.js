// The engine's calls in the page's own terms. What the engine finds wrong is an Error with
// its words and how to fix it.
import { ready } from "./engine.js";
import { call } from "./reach.js";
import { table } from "./csv.js";
import { pairsTable } from "./drill.js";
import { spoken } from "./words.js";

// ask is one call; settings that are not given are left out.
async function ask(what, settings, files = []) {
  const given = Object.fromEntries(Object.entries(settings).filter(([, v]) => v !== undefined && v !== null && v !== ""));
  const answer = await call(what, given, files);
  if (answer.error) throw new Error([answer.error.message, answer.error.hint].filter(Boolean).join(". "));
  return answer;
}

const known = new Map(); // the rules by language, which stay the same

// rules are the threshold rules, with the caution that goes with them.
export function rules() {
  const language = spoken();
  if (!known.has(language)) {
    known.set(language, ask("rules", { language }).then(a => a.facts));
    known.get(language).then(facts => cautions.set(language, facts.cautions), () => {});
    known.get(language).catch(() => known.delete(language));
  }
  return known.get(language);
}

const cautions = new Map(); // by language

// cautionsKnown are the cautions that go with all that is handed on, once the engine has
// said them, in the language of the page.
export const cautionsKnown = () => cautions.get(spoken()) ?? [];

// ruleOf is the rule that a field goes by: the one that was chosen, else the usual one.
export const ruleOf = (all, field) => all.find(r => r.name === field.rule) ?? all.find(r => r.default) ?? all[0];

// stagesOf are the stages that a rule tells apart; none where it holds at all of them.
export const stagesOf = rule => rule.bands.flatMap(b => b.stages);

// plain is what is counted where there is no engine to tell a rule: two leaves on each of
// five plants, as extension guides for sorghum have it.
export const plain = () => ({ ask: "count", rule: "", pest: "", crop: "grain sorghum", stage: "", unit: "leaf", plants: 5, parts: 2, leaves: 2, looked: "leaves", size: 1, tally: 0, sign: "", shows: "", says: "", how: "", advice: "", source: "", caution: "" });

// protocolOf is what a rule asks to be counted at a stop at the stage of a field.
export async function protocolOf(field) {
  const { rules: all, caution } = await rules(), rule = ruleOf(all, field), stages = stagesOf(rule);
  const stage = stages.includes(field.stage) ? field.stage : stages[0] ?? "";
  const band = rule.bands.find(b => b.stages.includes(stage)) ?? rule.bands[0];
  const ask = asked(band, field), ofLeaves = ask === "count" && band.parts > 1; // a row is a leaf
  return {
    ask, rule: rule.name, pest: rule.pest, crop: rule.crop, stage, unit: rule.unit, plants: band.units, parts: band.parts, leaves: ask === "count" ? band.parts : 1,
    looked: ofLeaves ? "leaves" : rule.looked, size: ofLeaves ? 1 : rule.size, things: rule.things,
    tally: band.tally, sign: band.sign, shows: band.shows, says: band.says, how: band.how, advice: band.advice, choice: band.counted === "over", source: rule.source, caution,
  };
}

// asked is what is asked of a leaf or plant: count, over, sign, or none where the rule has
// no number. Where a rule asks how many plants are over a tally, numbers tell it as well.
const asked = (band, field) => band.counted === "over" && field.numbers ? "count" : { number: "count", over: "over", sign: "sign", none: "none" }[band.counted];

// boundary reads the fields of files as they come from a disk.
export async function boundary(files) {
  const given = await Promise.all(files.map(async f => ({ role: "boundary", name: f.name, bytes: new Uint8Array(await f.arrayBuffer()) })));
  const { facts } = await ask("fields", {}, given);
  return facts.fields.map(f => ({ name: f.name, geometry: f.boundary }));
}

// drawn is the boundary that is made of corners, or of a pivot's centre and edge.
export async function drawn(settings) {
  const { facts } = await ask("draw", settings);
  return facts.fields[0].boundary;
}

const FEWEST = 12; // spread stops before any answer; so many are walked whole, by the shortest way

// plan are the planned stops of a walk. More than the fewest come in an order whose first
// ones are always spread, as the walk may end early.
export async function plan(field, stops) {
  const { facts } = await ask("plan", {
    stops, order: stops > FEWEST ? "spread" : "walk", heading: field.rows ? Number(field.rows) : undefined,
    start: field.gate ? [field.gate.longitude, field.gate.latitude] : undefined,
  }, [boundaryOf(field)]);
  return { stops: facts.stops.map(stopOf), says: facts.says };
}

// stopOf is a planned stop in the page's terms.
export const stopOf = stop => ({ name: stop.name, longitude: stop.at[0], latitude: stop.at[1] });

// after says whether to keep going, and where. No screen waits for its table to be written.
export async function after(field, walk, here, units, pairs) {
  await ready;
  const { facts } = await ask("after", {
    rule: walk.protocol.rule, stage: walk.stage, language: spoken(), units, last: here ? [here.longitude, here.latitude] : undefined,
  }, [boundaryOf(field), countsOf(walk), ...pairsOf(pairs)]);
  return facts;
}

// map is the answer at noon. Wishes take the place of the walk's own rule and stage. Counts
// are corrected by the pairs of the drill where some are given.
export async function map(field, walk, wishes, units, pairs) {
  const by = wishes["treat-at"] ? { "treat-at": wishes["treat-at"] } : { rule: wishes.rule ?? walk.protocol.rule, stage: wishes.stage ?? walk.stage };
  const language = spoken(), answer = await ask("map", { ...by, units, language }, [boundaryOf(field), countsOf(walk), ...pairsOf(pairs)]);
  cautions.set(language, answer.facts.cautions);
  return answer;
}

// boundaryOf is a field as a file of GeoJSON.
export function boundaryOf(field) {
  const feature = { type: "Feature", properties: { name: field.name }, geometry: field.geometry };
  return { role: "boundary", name: "field.geojson", bytes: JSON.stringify({ type: "FeatureCollection", features: [feature] }) + "\n" };
}

// eyes is what pairs of the drill tell of each observer.
export const eyes = async pairs => (await ask("eyes", {}, pairsOf(pairs))).facts.observers;

// aphidBy is which aphid the marks seen fit; other tells that it has wings or is young.
export const aphidBy = async (seen, other) => (await ask("key", { seen, form: other ? "winged" : "wingless", language: spoken() })).facts;

const pairsOf = pairs => pairs?.length ? [{ role: "pairs", name: "pairs.csv", bytes: pairsTable(pairs) }] : [];

const countsOf = walk => ({ role: "counts", name: "counts.csv", bytes: table(walk).text });
