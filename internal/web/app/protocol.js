// What a rule asks to be counted at a stop, from the engine's own account of the rule.
import { say } from "./words.js";

// asksOf are the lines that say what to count.
export function asksOf(protocol) {
  const lines = [];
  const { plants, leaves, unit, tally, sign, ask } = protocol;
  if (ask === "count" && leaves > 1) lines.push(say("count-leaves", { plants, leaves }));
  else if (ask === "count") lines.push(say("count-units", { plants, unit }));
  else if (ask === "sign") lines.push(say("ask-sign", { plants, sign }));
  else if (tally > 1) lines.push(say("ask-over", { plants, tally }));
  else lines.push(say("ask-any", { plants }));
  if (protocol.which) lines.push(say("which", { which: protocol.which }));
  return lines;
}

// questionOf is what is asked of one leaf or plant.
export function questionOf(protocol) {
  if (protocol.ask === "count") return say("first-look");
  if (protocol.ask === "sign") return say("sign-question", { sign: protocol.sign });
  return protocol.tally > 1 ? say("over-question", { tally: protocol.tally }) : say("any-question");
}
