// The band after a stop: KEEP GOING, or ENOUGH with the answer as it stands. The engine
// says which; the walk does not wait for it.
import { after } from "./calls.js";
import { h } from "./dom.js";
import { ahead, counted, placeOf } from "./walk.js";
import { say } from "./words.js";

// bandPart is the band of the walk so far. It fills when the engine has answered, and
// keeps its room meanwhile, so that nothing below it jumps.
export function bandPart(app) {
  const w = app.walk(), n = counted(w).length;
  const element = h("div", { class: "band", role: "status", id: "band" });
  if (!n) return element;
  if (app.band?.walk === w.id && app.band.n === n) {
    fill(element, app.band);
    return element;
  }
  element.append(h("p", { class: "quiet" }, app.failed ? say("engine-failed", { why: app.failed }) : say("band-wait")));
  after(app.state.fields.get(w.field), w, placeOf(w, counted(w).at(-1))).then(answer => {
    app.band = { ...answer, walk: w.id, n };
    fill(element, app.band);
    if (answer.next && !ahead(w).length && app.shown.name === "walk") app.refresh(); // the way there
  }).catch(e => element.replaceChildren(h("p", { class: "quiet" }, e.message)));
  return element;
}

function fill(element, { state, says, answer }) {
  const enough = state === "enough";
  element.classList.toggle("enough", enough);
  element.replaceChildren(h("p", {}, h("strong", {}, say(enough ? "enough" : "keep-going")), " ", says.map(bare).join(" "), enough && answer ? " " + answer.answer : ""));
}

// bare is a sentence without the word that the band begins with.
const bare = sentence => sentence.replace(/^(?:Keep going|Enough): (.)/, (_, first) => first.toUpperCase());
