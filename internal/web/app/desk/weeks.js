// Weeks: fields and visits of a season, what grew, whether the spray worked, where to go.
import { h } from "../dom.js";
import { said } from "./words.js";

export function weeks() {
  return { element: [h("p", {}, said("no-season"))] };
}
