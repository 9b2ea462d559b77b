// Lengths and areas for people, in the units that were chosen.
import { number, say } from "./words.js";

const FOOT = 0.3048, MILE = 1609.344, ACRE = 4046.8564224; // metres; international foot and acre

let us = true;

// measureIn chooses "us" or "metric".
export function measureIn(units) { us = units !== "metric"; }

// length is a distance in metres in words, to two figures or so.
export function length(metres) {
  if (us) return metres < MILE / 4 ? say("feet", { n: number(steps(metres / FOOT)) }) : say("miles", { n: number(metres / MILE, 1) });
  return metres < 1000 ? say("metres", { n: number(steps(metres)) }) : say("kilometres", { n: number(metres / 1000, 1) });
}

// steps rounds as one walks: to one below 20, to five below 100, to ten above.
const steps = n => n < 20 ? Math.round(n) : n < 100 ? 5 * Math.round(n / 5) : 10 * Math.round(n / 10);

// reach is how far off a position may be, never less than it is.
export const reach = metres => us ? say("feet", { n: number(Math.ceil(metres / FOOT)) }) : say("metres", { n: number(Math.ceil(metres)) });

// area is a ground in square metres in words.
export const area = squareMetres => us ? say("acres", { n: number(squareMetres / ACRE, 1) }) : say("hectares", { n: number(squareMetres / 10000, 1) });

// roundLength is the longest round length that is no longer than so many metres.
export function roundLength(most) {
  const unit = us ? FOOT : 1, power = 10 ** Math.floor(Math.log10(most / unit));
  const n = [5, 2, 1].map(d => d * power).find(v => v * unit <= most);
  return { metres: n * unit, words: say(us ? "feet" : "metres", { n: number(n) }) };
}
