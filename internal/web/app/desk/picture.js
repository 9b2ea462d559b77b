// The map of a field on a wide screen, and as a small one in a list, as SVG. North is up.
import { s } from "../dom.js";
import { ringsOf } from "../map.js";
import { roundLength } from "../measure.js";
import { localFrame } from "../position.js";

const WIDE = 560, MARGIN = 24; // units of the picture, about pixels

const round = v => Math.round(v * 10) / 10;

// viewOf says how places come onto a picture of a width, and back.
export function viewOf(bounds, wide = WIDE, margin = MARGIN, most = 500) {
  const [west, south, east, north] = bounds;
  const frame = localFrame({ longitude: (west + east) / 2, latitude: (south + north) / 2 });
  const [x1, y1] = frame.forward({ longitude: west, latitude: south }), [x2, y2] = frame.forward({ longitude: east, latitude: north });
  const across = Math.max(x2 - x1, 1), tall = Math.max(y2 - y1, 1);
  const scale = Math.min((wide - 2 * margin) / across, (most - 2 * margin) / tall), high = round(tall * scale + 2 * margin);
  const at = ([longitude, latitude]) => {
    const [x, y] = frame.forward({ longitude, latitude });
    return [round(wide / 2 + x * scale), round(high / 2 - y * scale)];
  };
  const from = ([x, y]) => { // at, the other way round
    const { longitude, latitude } = frame.inverse([(x - wide / 2) / scale, (high / 2 - y) / scale]);
    return [longitude, latitude];
  };
  return { at, from, scale, wide, high };
}

const path = (view, rings, close = "Z") => rings.map(ring => "M" + ring.map(p => view.at(p).join(" ")).join("L") + close).join("");

const SIGNS = { treat: "lines", watch: "dots", unscouted: "crosses" };

let last = 0; // of pictures, as patterns have names of their own

// patterns say in grey what colours say: lines for red ground, dots for watch, crosses
// where nobody was.
function patterns(id) {
  return s("defs", {},
    s("pattern", { id: `${id}-lines`, width: 8, height: 8, patternUnits: "userSpaceOnUse", patternTransform: "rotate(45)" }, s("path", { d: "M0 0V8", stroke: "#000", "stroke-width": 1.5 })),
    s("pattern", { id: `${id}-crosses`, width: 10, height: 10, patternUnits: "userSpaceOnUse" }, s("path", { d: "M2 2l4 4M6 2l-4 4", stroke: "#000", "stroke-width": 1 })),
    s("pattern", { id: `${id}-dots`, width: 9, height: 9, patternUnits: "userSpaceOnUse" }, s("circle", { cx: 4, cy: 4, r: 1, fill: "#000" })));
}

function zone(view, id, feature) {
  const kind = feature.properties.zone, d = path(view, ringsOf(feature.geometry)), sign = SIGNS[kind];
  return [s("path", { class: `zone ${kind}`, d, "fill-rule": "evenodd" }), sign ? s("path", { d, fill: `url(#${id}-${sign})`, "fill-rule": "evenodd" }) : null];
}

// picture draws a field: its outline, zones, stops of stops.geojson, and the job's ground
// where there is one. It has an element and the view that places go by.
export function picture({ outline, zones = [], stops = [], job = null, label }) {
  const view = viewOf(outline.bounds), id = `p${++last}`;
  const svg = s("svg", { viewBox: `0 0 ${view.wide} ${view.high}`, role: "img", "aria-label": label, class: "picture" }, patterns(id),
    zones.map(z => zone(view, id, z)),
    job ? jobOn(view, job) : null,
    s("path", { class: "outline", d: path(view, ringsOf(outline.boundary)), "fill-rule": "evenodd" }),
    stops.map(f => stop(view, f)), stops.length <= 60 ? numbers(view, stops) : null, scaleBar(view));
  return { svg, view };
}

// jobOn are swaths, passes with the boom on, what is kept off, and a cross on each place
// that stays unsprayed.
function jobOn(view, { swaths, passes, off, left }) {
  return [swaths.map(f => s("path", { class: "swath", d: path(view, ringsOf(f.geometry)), "fill-rule": "evenodd" })),
    passes.filter(f => f.properties.kind === "pass").map(f => s("path", { class: "pass", d: path(view, linesOf(f.geometry), "") })),
    off.map(f => s("path", { class: "off", d: path(view, ringsOf(f.geometry)), "fill-rule": "evenodd" })),
    left.map(f => s("path", { class: "left", d: cross(...view.at(middleOf(f.geometry))) }))];
}

// isPlace tells ground that a cross can mark from what lies along edges and cells.
export const isPlace = f => f.geometry.type === "Point" || ringsOf(f.geometry).length === 1;

const cross = (x, y) => `M${x - 6} ${y - 6}L${x + 6} ${y + 6}M${x - 6} ${y + 6}L${x + 6} ${y - 6}`;

// middleOf is the middle of the corners of the first ring of a ground, or a point itself.
function middleOf(geometry) {
  if (geometry.type === "Point") return geometry.coordinates;
  const ring = ringsOf(geometry)[0].slice(1);
  return [0, 1].map(i => ring.reduce((sum, p) => sum + p[i], 0) / ring.length);
}

const linesOf = geometry => geometry.type === "MultiLineString" ? geometry.coordinates : [geometry.coordinates];

const wordsOf = ({ value }) => value === null || value === undefined ? "" : String(Math.round(value * 10) / 10);

function stop(view, feature) {
  const [x, y] = view.at(feature.geometry.coordinates), p = feature.properties;
  if (p.not_read) return s("g", {}, s("title", {}, `${p.stop}: ${p.not_read}`), s("text", { x, y: y + 4 }, "?"));
  return s("g", {}, s("title", {}, `${p.stop}: ${wordsOf(p)}`), s("circle", { class: "spot", cx: x, cy: y, r: 3.5 }));
}

const LETTER = 7, LINE = 12; // room of a digit and of a line, for text of 11 (desk.css): our choice

// numbers are the counts over their stops, the highest first, and none where another
// stands already.
function numbers(view, stops) {
  const taken = [];
  return stops.filter(f => !f.properties.not_read).sort((a, b) => b.properties.value - a.properties.value).map(f => {
    const [x, up] = view.at(f.geometry.coordinates), y = up - 7, words = wordsOf(f.properties), half = LETTER * words.length / 2;
    if (taken.some(t => Math.abs(t.x - x) < t.half + half && Math.abs(t.y - y) < LINE)) return null;
    taken.push({ x, y, half });
    return s("text", { x, y }, words);
  });
}

function scaleBar(view) {
  const { metres, words } = roundLength(view.wide / 4 / view.scale), long = round(metres * view.scale), y = view.high - 8;
  return s("g", { class: "scale" }, s("path", { d: `M8 ${y - 4}v4h${long}v-4` }), s("text", { x: long + 14, y: y + 1 }, words));
}

// small is a field in a list.
export function small(outline, zones) {
  const view = viewOf(outline.bounds, 64, 2, 48);
  return s("svg", { viewBox: `0 0 ${view.wide} ${view.high}`, class: "small", "aria-hidden": "true" },
    zones.map(z => s("path", { class: `zone ${z.properties.zone}`, d: path(view, ringsOf(z.geometry)), "fill-rule": "evenodd" })),
    s("path", { class: "outline", d: path(view, ringsOf(outline.boundary)), "fill-rule": "evenodd" }));
}

// key is a sign of the legend, drawn as it is on the map.
export function key(kind) {
  const id = `p${++last}`, sign = SIGNS[kind];
  const drawn = {
    stop: () => s("circle", { class: "spot", cx: 14, cy: 10, r: 4 }), unread: () => s("text", { x: 14, y: 15 }, "?"),
    pass: () => s("path", { class: "pass", d: "M2 10H26" }), swath: () => s("rect", { class: "swath", width: 28, height: 20 }), off: () => s("rect", { class: "off", x: 1, y: 1, width: 26, height: 18 }),
    left: () => s("path", { class: "left", d: cross(14, 10) }),
  }[kind];
  return s("svg", { viewBox: "0 0 28 20", class: "key picture", "aria-hidden": "true" }, patterns(id),
    drawn ? drawn() : [s("rect", { class: `zone ${kind}`, width: 28, height: 20 }), sign ? s("rect", { width: 28, height: 20, fill: `url(#${id}-${sign})` }) : null]);
}
