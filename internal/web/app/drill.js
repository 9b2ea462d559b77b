// The drill of the eye: what was guessed and counted on drawn leaves against what was there.
import { randomOf } from "./blade.js";

export const SECONDS = 4; // of the short look, as long as on the page of the drill; our choice
const MOST = 500, FEWEST = 3; // insects on a leaf; our choice
const SERIES = 1;

// leafAt is a leaf of the series: how many are on it, and the chance that puts them there.
export function leafAt(number) {
  const random = randomOf((SERIES + Math.imul(number, 0x9E3779B1)) >>> 0);
  return { truth: Math.round(FEWEST * Math.pow(MOST / FEWEST, random())), random };
}

// outOfHundred is how many of 100 insects an observer finds on average: the geometric mean
// of found over there; null without a leaf on which any was found.
export function outOfHundred(pairs, of) {
  const logs = pairs.filter(p => p[of] > 0).map(p => Math.log(p[of] / p.counted));
  return logs.length ? Math.round(100 * Math.exp(logs.reduce((a, b) => a + b, 0) / logs.length)) : null;
}

// pairsTable is the table that geocoris calibrate reads.
export function pairsTable(pairs) {
  const quoted = text => /[",\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
  return "observer,estimated,counted,first_guess,series,leaf\n" +
    pairs.map(p => [quoted(p.observer), p.estimated, p.counted, p.first_guess, SERIES, p.leaf].join(",") + "\n").join("");
}
