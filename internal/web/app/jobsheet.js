// The job sheet for the applicator as a page of its own: what to do by when, which ground,
// what is off the label, what to mind. It presets no product, rate or interval: those are
// blanks.
import { h } from "./dom.js";
import { cornersOf, insideOf, partsOf } from "./ground.js";
import { legend } from "./legend.js";
import { fieldMap } from "./map.js";
import { area, reach } from "./measure.js";
import { rulesOfMaps } from "./picture.js";
import { dayInWords, say, spoken } from "./words.js";

const SPRAYS = ["spot spray", "treat the whole field"]; // kinds of the verdict

// hasJob says whether an answer is to spray: else there is no job to hand on.
export const hasJob = found => SPRAYS.includes(found.kind);

// groundOf are the parts to spray, with their names.
function groundOf(field, found) {
  const whole = found.kind === SPRAYS[1];
  const parts = whole ? partsOf(field.geometry) : found.zones.filter(z => z.properties.zone === "treat").flatMap(z => partsOf(z.geometry));
  return parts.sort((a, b) => b.area - a.area).map((part, i) => ({ ...part, name: i < 26 ? String.fromCharCode(65 + i) : String(i + 1), at: insideOf(part.rings) }));
}

// jobSheet is the sheet as HTML that asks for no other file and runs no script.
export function jobSheet({ field, walk, found, answer, cautions }) {
  const ground = groundOf(field, found), title = `${say("job")}: ${field.name}`;
  const { svg } = fieldMap({ geometry: field.geometry, zones: found.zones, label: answer, stops: ground.map(({ name, at }) => ({ name, ...at, state: "area" })) });
  svg.querySelector(".own").remove();
  const page = h("html", { lang: spoken() }, h("head", {},
    h("meta", { charset: "utf-8" }), h("meta", { name: "viewport", content: "width=device-width, initial-scale=1" }),
    h("meta", { "http-equiv": "Content-Security-Policy", content: "default-src 'none'; style-src 'unsafe-inline'" }),
    h("title", {}, title), h("style", {}, rulesOfMaps() + STYLE)),
  h("body", {}, h("main", {}, h("h1", {}, title), h("p", {}, counted(walk)), h("p", { class: "says" }, answer), found.good_until ? h("p", {}, found.good_until) : null,
    svg, legend(found, {}), h("h2", {}, found.kind === SPRAYS[1] ? say("job-whole") : say("job-ground")), h("p", {}, say("job-corners")), ground.map(partOf),
    h("h2", {}, say("job-label")), h("ul", { class: "blanks" }, ["product", "rate", "entry", "harvest", "water", "wind", "applicator", "licence"].map(k => h("li", {}, say(`blank-${k}`)))),
    h("h2", {}, say("job-weather")), weather(),
    h("h2", {}, say("cautions")), h("ul", {}, cautions.map(line => h("li", {}, line))))));
  return `<!DOCTYPE html>\n${page.outerHTML}\n`;
}

const counted = walk => [walk.observer ? say("job-counted-by", { day: dayInWords(walk.day), observer: walk.observer }) : say("job-counted", { day: dayInWords(walk.day) })];

// partOf is a part with its size and corners; what lies in it and is not to be sprayed has
// its own.
function partOf({ name, area: size, rings }) {
  return h("section", {}, h("h3", {}, say("job-area", { name, area: area(size) })), rings.map((ring, i) => {
    const { corners, off } = cornersOf(ring);
    return [i ? h("p", {}, say("job-hole")) : null, h("ol", {}, corners.map(c => h("li", {}, `${c.latitude.toFixed(6)}, ${c.longitude.toFixed(6)}`))), h("p", { class: "quiet" }, say("job-within", { length: reach(off) }))];
  }));
}

const weather = () => h("table", {}, h("thead", {}, h("tr", {}, h("td", { class: "wide" }), h("th", { scope: "col" }, say("weather-start")), h("th", { scope: "col" }, say("weather-end")))),
  h("tbody", {}, ["time", "speed", "from", "gusts", "warm", "moist", "inversion"].map(k => h("tr", {}, h("th", { scope: "row" }, say(`weather-${k}`)), h("td"), h("td")))));

const STYLE = ` :root { color-scheme: light; } * { box-sizing: border-box; }
body { margin: 0 auto; padding: 0.75rem; max-width: 44rem; font: 1rem/1.4 system-ui, sans-serif; color: #1a1a1a; background: #fff; overflow-wrap: anywhere; print-color-adjust: exact; -webkit-print-color-adjust: exact; }
h1 { font-size: 1.4rem; margin: 0.2rem 0; } h2 { font-size: 1.1rem; margin: 1rem 0 0.3rem; border-bottom: 2px solid #1a1a1a; } h3 { font-size: 1rem; margin: 0.8rem 0 0.2rem; }
p, ul, ol { margin: 0.3rem 0; } .quiet { color: #4d4d4d; } .says { font-size: 1.15rem; font-weight: 600; border-left: 0.4rem solid #1a1a1a; padding-left: 0.75rem; }
svg { display: block; width: 100%; max-width: 30rem; height: auto; } ol { columns: 14rem; font-variant-numeric: tabular-nums; }
.blanks { list-style: none; padding: 0; } .blanks li { display: flex; gap: 0.5rem; padding-top: 0.7rem; } .blanks li::after { content: ""; flex: 1 0 3rem; border-bottom: 1px solid #4d4d4d; }
.legend { list-style: none; padding: 0; display: flex; flex-wrap: wrap; gap: 0.3rem 1.2rem; } .legend li { display: flex; align-items: center; gap: 0.4rem; } .legend svg { width: 28px; height: 20px; flex: none; } .wide { width: 44%; }
table { border-collapse: collapse; width: 100%; table-layout: fixed; } th, td { border: 1px solid #4d4d4d; padding: 0.3rem 0.4rem; text-align: left; }
@page { margin: 11mm; } @media print { html { font-size: 10pt; } section, li, tr, svg { break-inside: avoid; } h2, h3 { break-after: avoid; } svg { max-width: 110mm; } }`;
