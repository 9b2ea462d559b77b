// The counts of a walk as a table, which geocoris map reads as it is: one row a leaf, or a
// plant where the rule asks a plant for yes or no. Words in it are English whatever the
// page speaks.
import { classWords, leafName } from "./count.js";
import { placeOf } from "./walk.js";

export const COLUMNS = ["stop", "kind", "latitude", "longitude", "accuracy_m", "position", "plant", "leaf", "count", "leaves", "plants_over", "at_or_above",
  "honeydew", "colonies", "predators", "mummies", "time", "observer", "pest", "stage", "notes"];

// table is the walk as CSV (RFC 4180, with line feeds), with a note on all of it on its
// first row. Leaves that nobody looked at have
// no row. Visits whose place nobody knows have none either: those are named as lost.
export function table(walk, note = "") {
  const rows = [], lost = [];
  for (const visit of walk.visits) {
    if (visit.skipped) continue;
    const done = visit.leaves.filter(l => l.done), place = placeOf(walk, visit);
    if (!place && done.length) lost.push(visit.stop);
    if (place) done.forEach((leaf, i) => rows.push(rowOf(walk, visit, place, leaf, done[i - 1])));
  }
  if (rows.length && note) rows[0].notes = [rows[0].notes, note].filter(Boolean).join("; ");
  const looked = lookedOf(walk.protocol), header = COLUMNS.map(c => c === "leaves" ? looked : c);
  const lines = [header, ...rows.map(r => header.map(c => r[c] ?? ""))];
  return { text: lines.map(l => l.map(cell).join(",") + "\n").join(""), rows: rows.length, lost };
}

// rowOf is the row of a leaf. What was seen on its plant stands on the plant's first row,
// the note on the first of the stop.
function rowOf(walk, visit, place, leaf, before) {
  const p = walk.protocol, seen = leaf.plant === before?.plant ? {} : visit.seen[leaf.plant] ?? {};
  const yes = v => v === undefined ? "" : v ? "yes" : "no";
  return {
    stop: visit.stop, kind: visit.extra ? "extra" : "planned", latitude: place.latitude.toFixed(7), longitude: place.longitude.toFixed(7),
    accuracy_m: place.source === "measured" ? place.accuracy.toFixed(1) : "", position: place.source, plant: leaf.plant, ...found(p, leaf),
    honeydew: yes(seen.honeydew), colonies: yes(seen.colonies), predators: seen.predators ?? "", mummies: seen.mummies ?? "",
    time: leaf.at, observer: walk.observer, pest: p.pest, stage: walk.stage, notes: before ? "" : visit.note,
  };
}

// lookedOf is the column of how many were looked at: sweeps where a row is of ten. Walks of
// before the engine told it have leaves.
const lookedOf = protocol => protocol.looked ?? "leaves";

// found are the columns of what was looked at: a count on one leaf or its class, or one plant that is
// over the tally, or shows the sign, or does not.
function found(protocol, leaf) {
  const looked = { [lookedOf(protocol)]: protocol.size ?? 1 };
  if (protocol.ask === "count") return { leaf: leafName(leaf, protocol), count: leaf.range ? classWords(leaf.range) : leaf.count, ...looked };
  return { ...looked, plants_over: leaf.over ? 1 : 0, at_or_above: protocol.sign || protocol.tally };
}

// cell quotes where it must, and keeps spreadsheets from taking words for formulas.
function cell(value) {
  let text = String(value);
  if (/^[=@\t\r]|^[+-](?![\d.])/.test(text)) text = "'" + text;
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}
