// What a rule asks to be counted at a stop, from the engine's own account of the rule.
import { plant } from "./drawings.js";
import { say } from "./words.js";

// drawingOf shows the leaves to look at, null where there is no drawing of them.
export function drawingOf(protocol, stage, marked) {
  if (protocol.crop !== "grain sorghum" || protocol.parts !== 2) return null;
  return plant(stage, marked, say("plant-drawn", { leaves: marked.map(m => say(`leaf-${m}`)).join(", ") }));
}

// asksOf are the lines that say what to count.
export function asksOf({ plants, leaves, size, things, tally, sign, shows, ask, says }) {
  const lines = [];
  if (ask === "count") lines.push(say(leaves > 1 ? "count-leaves" : things ? "count-things" : "count-units", { plants, leaves, n: plants * size, things }));
  else if (ask === "sign") lines.push(say("ask-sign", { plants, sign: shows || sign }));
  else lines.push(say(tally > 1 ? "ask-over" : "ask-any", { plants, tally }));
  if (says) lines.push(say("spray-level", { says }));
  return lines;
}

// questionOf is what is asked of one leaf or plant.
export function questionOf(protocol) {
  if (protocol.ask === "count") return say("first-look");
  if (protocol.ask === "sign") return say("sign-question", { sign: protocol.shows || protocol.sign });
  return protocol.tally > 1 ? say("over-question", { tally: protocol.tally }) : say("any-question");
}
