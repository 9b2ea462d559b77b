// The band after a stop: KEEP GOING, or ENOUGH with the answer as it stands. The engine
// says which; the walk does not wait for it.
import { after } from "./calls.js";
import { pairsOn } from "./correction.js";
import { h } from "./dom.js";
import { ahead, counted, placeOf } from "./walk.js";
import { say, spoken } from "./words.js";

// bandPart is the band of the walk so far. It fills when the engine has answered, and
// keeps its room meanwhile, so that nothing below it jumps.
export function bandPart(app) {
  const w = app.walk(), known = bandOf(app, w);
  const element = h("div", { class: "band", role: "status", id: "band" });
  if (!counted(w).length) return element;
  if (known) {
    fill(element, known);
    return element;
  }
  const of = asked(app, w);
  element.append(h("p", { class: "quiet" }, say("band-wait")));
  after(app.state.fields.get(w.field), w, placeOf(w, counted(w).at(-1)), app.state.settings.units, pairsOn(app)).then(answer => {
    app.band = { ...answer, of };
    fill(element, app.band);
    const leads = answer.state === "enough" || answer.next && !ahead(w).length; // elsewhere than to the next planned stop
    if (leads && app.shown.name === "walk") app.refresh();
  }).catch(e => element.replaceChildren(h("p", { class: "quiet" }, app.failed ? say("engine-failed", { why: app.failed }) : e.message)));
  return element;
}

// bandOf is what the engine said of the counts as they are; null where they changed since.
export const bandOf = (app, w) => app.band?.of === asked(app, w) ? app.band : null;

// asked is all that the band goes by.
const asked = (app, w) => [spoken(), app.state.settings.units, pairsOn(app).length, w.id, w.told, w.last].join(" ");

function fill(element, { state, says, answer }) {
  const enough = state === "enough";
  element.classList.toggle("enough", enough);
  element.replaceChildren(h("p", {}, h("strong", {}, say(enough ? "enough" : "keep-going")), " ", says.map(bare).join(" "), enough && answer ? " " + answer.answer : ""));
}

// bare is a sentence without the word that the band begins with, in any language.
const bare = sentence => sentence.replace(/^(?:Keep going|Enough|Siga|Basta): (.)/, (_, first) => first.toUpperCase());
