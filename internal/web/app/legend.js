// The signs of the map in words: those that are on it.
import { h, s } from "./dom.js";
import { say } from "./words.js";

// kindsOf are the zones that are on the map.
const kindsOf = found => ["treat", "watch", "clear", "unscouted"].filter(z => found.zones.some(f => f.properties.zone === z));

// signs are the signs on the map as { kind, words }: zones, and last week's red ground.
export const signs = (found, field) => [...kindsOf(found).map(kind => ({ kind, words: say(`zone-${kind}`) })), ...(field.week?.length ? [{ kind: "week", words: say("legend-week") }] : [])];

// legend tells the signs of the map: those that are on it.
export function legend(found, field) {
  const swatch = kind => s("svg", { viewBox: "0 0 28 20", class: "map", "aria-hidden": "true" }, kind === "week" ? s("path", { class: "week", d: "M2 10H26" }) : s("rect", { class: `zone ${kind}`, width: 28, height: 20 }),
    { treat: s("rect", { width: 28, height: 20, fill: "url(#lines)" }), watch: s("rect", { width: 28, height: 20, fill: "url(#dots)" }), unscouted: s("rect", { width: 28, height: 20, fill: "url(#crosses)" }) }[kind] ?? "");
  return h("ul", { class: "legend" }, signs(found, field).map(({ kind, words }) => h("li", {}, swatch(kind), words)));
}
