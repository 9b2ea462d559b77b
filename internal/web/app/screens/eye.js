// Eye: a short look at a drawn leaf, a guess, a count by groups, and the truth.
import { blade } from "../blade.js";
import { GROUPS } from "../count.js";
import { button, h, labelled } from "../dom.js";
import { SECONDS, leafAt, outOfHundred, pairsTable } from "../drill.js";
import { handOn } from "../handing.js";
import { fileOf } from "../share.js";
import { number, say } from "../words.js";

export function eye(app) {
  const pairs = app.state.pairs, leaf = leafAt(pairs.length + 1);
  const name = h("input", { type: "text", id: "eye-name", value: app.state.settings.observer ?? "", autocomplete: "off" });
  const said = h("p", { role: "status", id: "eye-said" }), room = h("div", { class: "leaf-room" }), below = h("div", { class: "stack" });
  const drawn = blade(leaf.truth, leaf.random, say("leaf-drawn"));
  let timer = 0;

  const start = () => {
    if (!name.value.trim()) {
      said.textContent = say("name-first");
      return name.focus();
    }
    app.keep(() => ({ kind: "set", values: { observer: name.value.trim() } }));
    said.textContent = say("look");
    room.replaceChildren(drawn.svg);
    below.replaceChildren();
    timer = setTimeout(guess, 1000 * SECONDS);
  };
  const guess = () => {
    room.replaceChildren();
    said.textContent = say("guess-how-many");
    const of = h("input", { type: "number", id: "eye-guess", min: 0, max: 100000, inputmode: "numeric" });
    below.replaceChildren(labelled(say("first-guess"), of), button(say("count-groups"), () => of.value === "" ? of.focus() : groups(Number(of.value)), { class: "main wide", id: "eye-count" }));
    of.focus();
  };
  const groups = first => {
    let found = 0;
    const figure = h("output", { class: "figure" }), tell = n => { found = Math.max(0, found + n); figure.textContent = say("on-leaf", { n: number(found) }); };
    tell(0);
    said.textContent = say("count-leaf");
    room.replaceChildren(drawn.svg);
    below.replaceChildren(tools(drawn), figure, h("div", { class: "pad" }, GROUPS.map(n => button(`+${n}`, () => tell(n), { "data-add": n })),
      button("−1", () => tell(-1)), button(say("start-again"), () => tell(-found)), button(say("truth"), () => truth(first, found), { class: "main", id: "eye-truth" })));
  };
  const truth = async (first, found) => {
    const pair = { observer: name.value.trim(), estimated: found, counted: leaf.truth, first_guess: first, leaf: pairs.length + 1 };
    await app.keep(() => ({ kind: "pair", pair }));
    said.textContent = say("truth-is", { truth: leaf.truth, first, found });
    below.replaceChildren(tools(drawn), button(say("next-leaf"), () => app.refresh(), { class: "main wide", id: "eye-next" }));
  };
  below.replaceChildren(labelled(say("observer"), name), button(say("next-leaf"), start, { class: "main wide", id: "eye-start" }), ...soFar(app, pairs));
  const element = [h("header", {}, h("h1", {}, say("eye"))), said, room, below, h("p", { class: "quiet" }, say("invented")),
    button(say("back-before"), () => app.go("before"), { class: "wide" })];
  return { element, leave: () => clearTimeout(timer) };
}

// tools turn and enlarge the leaf.
const tools = drawn => h("div", { class: "row", role: "group", "aria-label": say("leaf-tools") }, ["turn", "out", "in", "whole"].map(what => button(say(`leaf-${what}`), () => drawn.look(what))));

// soFar is what the eye finds on average, and the pairs as a file.
function soFar(app, pairs) {
  if (!pairs.length) return [];
  const part = of => outOfHundred(pairs, of) ?? "–";
  return [h("p", {}, say("eye-so-far", { n: pairs.length, first: part("first_guess"), found: part("estimated") })),
    handOn(app, say("file-pairs"), "pairs.csv", "text/csv", () => fileOf("pairs.csv", "text/csv", pairsTable(pairs)))];
}
