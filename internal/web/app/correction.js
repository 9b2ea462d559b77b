// What practice tells of the observer of a walk, and whether the counts are corrected by it.
// It is asked for once and then kept; the counts that are shared stay as they were tapped.
import { eyes } from "./calls.js";
import { h } from "./dom.js";
import { say } from "./words.js";

// pairsOn are the pairs by which counts are corrected; none where nobody asked for it.
export const pairsOn = app => app.state.settings.correct ? app.state.pairs : [];

// observers are compared as the engine does: without regard to case and blanks.
const same = (a, b) => key(a) === key(b);
const key = name => name.trim().split(/\s+/).join(" ").toLowerCase();

const pairsBy = (app, walk) => app.state.pairs.filter(p => same(p.observer, walk.observer));

// correctionNote is what the shared counts say of it, in English as all in them.
export function correctionNote(app, walk) {
  const n = pairsBy(app, walk).length;
  return app.state.settings.correct && n ? `raw counts; the answer on the phone was corrected by ${n} pairs of pairs.csv` : "";
}

// corrected is an answer with what was done to the counts.
export const corrected = (app, walk, answer) => app.state.settings.correct && pairsBy(app, walk).length ? `${answer} ${say("corrected")}` : answer;

// correctionPart says which part the observer finds and offers to correct by it. It is empty
// without practice, and until the engine has answered. changed is called after a choice.
export function correctionPart(app, walk, changed) {
  const element = h("div", { id: "correction" });
  if (!pairsBy(app, walk).length) return element;
  eyes(app.state.pairs).then(all => {
    const eye = all.find(e => same(e.observer, walk.observer));
    element.replaceChildren(...shown(app, eye, changed));
  }, () => {});
  return element;
}

function shown(app, eye, changed) {
  if (!eye.corrects) return [h("p", { class: "quiet" }, say("practise-more", { n: eye.pairs }))];
  const on = h("input", { type: "checkbox", id: "correct", checked: Boolean(app.state.settings.correct), onchange: async () => {
    await app.keep(() => ({ kind: "set", values: { correct: on.checked } }));
    changed();
  } });
  return [h("p", {}, tendency(eye)), h("label", { class: "choice" }, on, h("span", {}, say("correct-mine")))];
}

// tendency is how far the eye is off, in whole percent of what is there.
function tendency({ found, pairs }) {
  const off = Math.round(found - 100);
  return off ? say(off < 0 ? "eye-low" : "eye-high", { off: Math.abs(off), n: pairs }) : say("eye-even", { n: pairs });
}
