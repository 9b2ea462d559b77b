// The signs of the map in words: those that are on it.
import { h, s } from "./dom.js";
import { say } from "./words.js";

// kindsOf are the zones that are on the map.
export const kindsOf = found => ["treat", "watch", "clear", "unscouted"].filter(z => found.zones.some(f => f.properties.zone === z));

// legend tells the signs of the map: those that are on it.
export function legend(found, field) {
  const kinds = kindsOf(found);
  const swatch = kind => s("svg", { viewBox: "0 0 28 20", class: "map", "aria-hidden": "true" }, s("rect", { class: `zone ${kind}`, width: 28, height: 20 }),
    { treat: s("rect", { width: 28, height: 20, fill: "url(#lines)" }), watch: s("rect", { width: 28, height: 20, fill: "url(#dots)" }), unscouted: s("rect", { width: 28, height: 20, fill: "url(#crosses)" }) }[kind] ?? "");
  return h("ul", { class: "legend" }, kinds.map(kind => h("li", {}, swatch(kind), say(`zone-${kind}`))),
    field.week?.length ? h("li", {}, s("svg", { viewBox: "0 0 28 20", class: "map", "aria-hidden": "true" }, s("path", { class: "week", d: "M2 10H26" })), say("legend-week")) : null);
}
