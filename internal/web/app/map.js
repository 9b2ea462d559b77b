// The map of a field as SVG: outline, zones, stops, the walked track and one's own place.
// North is up. What is drawn is described in words beside the map.
import { s } from "./dom.js";
import { roundLength } from "./measure.js";
import { localFrame } from "./position.js";

const WIDE = 360, MARGIN = 22; // units of the picture, as pixels on a phone

// ringsOf are the rings of a polygon or of several, as GeoJSON has them (RFC 7946).
export function ringsOf(geometry) {
  if (geometry.type === "Polygon") return geometry.coordinates;
  if (geometry.type === "MultiPolygon") return geometry.coordinates.flat();
  return [];
}

// fieldMap draws a field. stops have a name, a place and a state: ahead, next, done or
// skipped. move(fix) puts one's own dot to another place.
export function fieldMap({ geometry, stops = [], track = [], zones = [], week = [], here = null, label }) {
  const view = viewOf(geometry, stops);
  const own = s("g", { class: "own" });
  const svg = s("svg", { viewBox: `0 0 ${WIDE} ${view.high}`, role: "img", "aria-label": label, class: "map" },
    patterns(),
    zones.map(z => zone(view, z)),
    s("path", { class: "outline", d: path(view, ringsOf(geometry)), "fill-rule": "evenodd" }),
    week.map(z => s("path", { class: "week", d: path(view, ringsOf(z.geometry)) })),
    track.length > 1 ? s("polyline", { class: "track", points: track.map(p => view.at(p).join(",")).join(" ") }) : null,
    stops.map(stop => mark(view, stop, stops.length)),
    own, scaleBar(view));
  const move = fix => own.replaceChildren(...(fix ? dot(view, fix) : []));
  move(here);
  return { svg, move };
}

// viewOf says how places come onto the picture.
function viewOf(geometry, stops) {
  const places = [...ringsOf(geometry).flat().map(([longitude, latitude]) => ({ longitude, latitude })), ...stops];
  const lons = places.map(p => p.longitude), lats = places.map(p => p.latitude);
  const least = a => a.reduce((m, v) => Math.min(m, v), Infinity), most = a => a.reduce((m, v) => Math.max(m, v), -Infinity);
  const frame = localFrame({ longitude: (least(lons) + most(lons)) / 2, latitude: (least(lats) + most(lats)) / 2 });
  const [x1, y1] = frame.forward({ longitude: least(lons), latitude: least(lats) });
  const [x2, y2] = frame.forward({ longitude: most(lons), latitude: most(lats) });
  const wide = Math.max(x2 - x1, 1), tall = Math.max(y2 - y1, 1);
  const room = WIDE - 2 * MARGIN, scale = Math.min(room / wide, room / tall);
  const high = Math.max(160, tall * scale + 2 * MARGIN);
  const at = p => {
    const [x, y] = frame.forward(p);
    return [round(WIDE / 2 + x * scale), round(high / 2 - y * scale)];
  };
  return { at, scale, high: round(high) };
}

const round = v => Math.round(v * 10) / 10;

const path = (view, rings) => rings.map(ring => "M" + ring.map(([longitude, latitude]) => view.at({ longitude, latitude }).join(" ")).join("L") + "Z").join("");

// patterns say on paper and in grey what colours say: lines for red ground, dots
// for watch, crosses where nobody was.
function patterns() {
  return s("defs", {},
    s("pattern", { id: "lines", width: 8, height: 8, patternUnits: "userSpaceOnUse", patternTransform: "rotate(45)" }, s("path", { d: "M0 0V8", stroke: "#000", "stroke-width": 1.5 })),
    s("pattern", { id: "crosses", width: 10, height: 10, patternUnits: "userSpaceOnUse" }, s("path", { d: "M2 2l4 4M6 2l-4 4", stroke: "#000", "stroke-width": 1 })),
    s("pattern", { id: "dots", width: 9, height: 9, patternUnits: "userSpaceOnUse" }, s("circle", { cx: 4, cy: 4, r: 1, fill: "#000" })));
}

function zone(view, feature) {
  const kind = feature.properties.zone, d = path(view, ringsOf(feature.geometry));
  const sign = { treat: "lines", watch: "dots", unscouted: "crosses" }[kind];
  return [s("path", { class: `zone ${kind}`, d, "fill-rule": "evenodd" }),
    sign ? s("path", { d, fill: `url(#${sign})`, "fill-rule": "evenodd" }) : null];
}

// mark is a stop: ahead hollow, next with a second ring, done filled, skipped crossed out.
function mark(view, stop, n) {
  const [x, y] = view.at(stop), small = n > 30, r = small ? 5 : 10;
  return s("g", { class: `stop ${stop.state}`, transform: `translate(${x} ${y})`, "data-stop": stop.name },
    stop.state === "next" ? s("circle", { class: "ring", r: r + 5 }) : null,
    s("circle", { r }),
    stop.state === "skipped" ? s("path", { d: `M${-r} ${-r}L${r} ${r}M${-r} ${r}L${r} ${-r}` }) : null,
    small && stop.state !== "next" ? null : s("text", { y: 3.6 }, stop.name));
}

function dot(view, fix) {
  const [x, y] = view.at(fix);
  const shape = [s("circle", { class: "sure", cx: x, cy: y, r: round(Math.max(7, fix.accuracy * view.scale)) }), s("circle", { class: "dot", cx: x, cy: y, r: 5.5 })];
  return x < 0 || y < 0 || x > WIDE || y > view.high ? [] : shape;
}

// scaleBar is a bar of a round length, the longest that takes a third of the picture.
function scaleBar(view) {
  const { metres, words } = roundLength(WIDE / 3 / view.scale), long = round(metres * view.scale), y = view.high - 6;
  return s("g", { class: "scale" }, s("path", { d: `M8 ${y - 4}v4h${long}v-4` }), s("text", { x: long + 13, y: y + 1 }, words));
}
