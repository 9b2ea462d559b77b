// The counts of a walk as a table, which geocoris map reads as it is: one row a leaf, or a
// plant where the rule asks for plants. Words in it are English whatever the page speaks.
import { leafName } from "./count.js";
import { placeOf } from "./walk.js";

// table is the walk as CSV (RFC 4180). Leaves that nobody looked at have no row, and
// visits whose place nobody knows have none either: those are returned as lost.
export function table(walk) {
  const rows = [], lost = [];
  for (const visit of walk.visits) {
    if (visit.skipped) continue;
    const done = visit.leaves.filter(l => l.done), place = placeOf(walk, visit);
    if (!place && done.length) lost.push(visit.stop);
    if (!place) continue;
    for (const leaf of done) rows.push(rowOf(walk, visit, place, leaf));
  }
  const columns = [...new Set(rows.flatMap(r => Object.keys(r)))];
  const lines = [columns, ...rows.map(r => columns.map(c => r[c] ?? ""))];
  return { text: lines.map(l => l.map(cell).join(",") + "\n").join(""), rows: rows.length, lost };
}

function rowOf(walk, visit, place, leaf) {
  const p = walk.protocol;
  return {
    stop: visit.stop, longitude: place.longitude.toFixed(7), latitude: place.latitude.toFixed(7),
    ...found(p, leaf),
    plant: leaf.plant, leaf: leafName(leaf, p),
    time: leaf.at, observer: walk.observer, pest: p.pest, stage: walk.stage, kind: visit.extra ? "extra" : "",
    accuracy_m: place.accuracy === undefined ? "" : place.accuracy.toFixed(1), fixes: place.fixes ?? "", position: place.source,
    honeydew: leaf.honeydew ? "yes" : "", predators: leaf.predators || "", mummies: leaf.mummies || "", notes: leaf.note,
  };
}

// found are the columns of what was looked at: a count on one unit, or one plant that is
// over the tally or not.
function found(protocol, leaf) {
  if (protocol.ask === "count") return { count: leaf.count, [protocol.column]: 1 };
  return { plants: 1, plants_over: leaf.over ? 1 : 0, at_or_above: protocol.sign || protocol.tally };
}

// cell quotes where it must, and keeps spreadsheets from taking words for formulas.
function cell(value) {
  let text = String(value);
  if (/^[=@\t\r]|^[+-](?![\d.])/.test(text)) text = "'" + text;
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}
