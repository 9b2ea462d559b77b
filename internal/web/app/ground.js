// Ground as an applicator reads it: parts with their size, a place inside, and few corners.
import { localFrame } from "./position.js";

const MOST = 24; // corners of a ring; our choice
const FINEST = 1; // metres that a corner may be off, to begin with

const placed = ([longitude, latitude]) => ({ longitude, latitude });

// partsOf are the polygons of a geometry of GeoJSON (RFC 7946), largest first, with their area
// in square metres.
export function partsOf(geometry) {
  const all = geometry.type === "Polygon" ? [geometry.coordinates] : geometry.coordinates;
  return all.map(rings => ({ rings, area: areaOf(rings) })).sort((a, b) => b.area - a.area);
}

function areaOf(rings) {
  const frame = localFrame(placed(rings[0][0]));
  const of = ring => Math.abs(ring.map(p => frame.forward(placed(p))).reduce((sum, [x, y], i, all) => {
    const [nx, ny] = all[(i + 1) % all.length];
    return sum + x * ny - nx * y;
  }, 0)) / 2;
  return of(rings[0]) - rings.slice(1).reduce((sum, hole) => sum + of(hole), 0);
}

// insideOf is a place well inside a polygon: the middle of its widest part half way up.
export function insideOf(rings) {
  const lats = rings[0].map(p => p[1]), latitude = (Math.min(...lats) + Math.max(...lats)) / 2 + 1e-9; // off the corners
  const cuts = rings.flatMap(ring => ring.slice(1).flatMap(([x2, y2], i) => {
    const [x1, y1] = ring[i];
    return (y1 > latitude) === (y2 > latitude) ? [] : [x1 + (x2 - x1) * (latitude - y1) / (y2 - y1)];
  })).sort((a, b) => a - b);
  let best = [cuts[0], cuts[1]];
  for (let i = 0; i + 1 < cuts.length; i += 2) if (cuts[i + 1] - cuts[i] > best[1] - best[0]) best = [cuts[i], cuts[i + 1]];
  return { longitude: (best[0] + best[1]) / 2, latitude };
}

// cornersOf are the corners of a ring that matter, at most so many, by Douglas & Peucker
// (1973, Cartographica 10:112–122): no point of the ring is farther than off, in metres, from
// the line through them.
export function cornersOf(ring) {
  const frame = localFrame(placed(ring[0])), points = ring.slice(0, -1).map(p => frame.forward(placed(p)));
  for (let off = FINEST; ; off *= 1.5) {
    const kept = thinned(points, off);
    if (kept.length <= MOST) return { corners: kept.map(i => placed(ring[i])), off };
  }
}

// thinned are the places in a closed line of the points that are kept.
function thinned(points, off) {
  const n = points.length, far = points.reduce((best, p, i) => distance(p, points[0]) > distance(points[best], points[0]) ? i : best, 0);
  const kept = new Set([0, far]);
  const part = (a, b) => {
    let worst = 0, at = -1;
    for (let i = a + 1; i < b; i++) {
      const d = toSegment(points[i], points[a], points[b % n]);
      if (d > worst) [worst, at] = [d, i];
    }
    if (worst <= off) return;
    kept.add(at);
    part(a, at);
    part(at, b);
  };
  part(0, far);
  part(far, n);
  return [...kept].sort((a, b) => a - b);
}

const distance = ([ax, ay], [bx, by]) => Math.hypot(ax - bx, ay - by);

function toSegment(p, a, b) {
  const long = distance(a, b) ** 2, t = long && Math.min(1, Math.max(0, ((p[0] - a[0]) * (b[0] - a[0]) + (p[1] - a[1]) * (b[1] - a[1])) / long));
  return distance(p, [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])]);
}
