// Boundaries that are made on the spot. The engine checks them again like any file's.
import { localFrame, way } from "./position.js";

const APART = 3; // metres; about what a phone tells apart
const PIVOT = 120; // corners of a circle: 0.05 % less ground than the circle

// outlineOf is a polygon of GeoJSON from the points that were taken, null where they are
// too few: three of an edge, or the centre of a pivot and one point of its edge.
export function outlineOf(kind, points) {
  if (kind === "pivot") return points.length < 2 ? null : circle(points[0], points[1]);
  return points.length < 3 ? null : polygon(points);
}

function circle(centre, edge) {
  const frame = localFrame(centre), [x, y] = frame.forward(edge), radius = Math.hypot(x, y);
  return polygon(Array.from({ length: PIVOT }, (_, i) => frame.inverse([radius * Math.cos(2 * Math.PI * i / PIVOT), radius * Math.sin(2 * Math.PI * i / PIVOT)])));
}

function polygon(points) {
  const ring = points.map(p => [fixed(p.longitude), fixed(p.latitude)]);
  if (doubled(ring) < 0) ring.reverse(); // the outer ring runs against the clock (RFC 7946)
  return { type: "Polygon", coordinates: [[...ring, ring[0]]] };
}

const fixed = degrees => Number(degrees.toFixed(7));

// doubled is twice the area of an open ring, above 0 against the clock.
const doubled = ring => ring.reduce((sum, [x, y], i) => {
  const [ax, ay] = ring[0], [nx, ny] = ring[(i + 1) % ring.length];
  return sum + (x - ax) * (ny - ay) - (nx - ax) * (y - ay);
}, 0);

// sizeOf is the area of a polygon in square metres, to be shown while it is made.
export function sizeOf(geometry) {
  const ring = geometry.coordinates[0].slice(0, -1).map(([longitude, latitude]) => ({ longitude, latitude }));
  const frame = localFrame(ring[0]);
  return Math.abs(doubled(ring.map(frame.forward))) / 2;
}

// apart says whether a point of an edge that is walked is away from the one before it.
export const apart = (last, point) => !last || way(last, point).metres >= APART;

// crosses says whether the edge crosses itself.
export function crosses(geometry) {
  const ring = geometry.coordinates[0], n = ring.length - 1;
  const side = ([ax, ay], [bx, by], [cx, cy]) => Math.sign((bx - ax) * (cy - ay) - (by - ay) * (cx - ax));
  for (let i = 0; i < n; i++)
    for (let j = i + 2; j < n; j++) {
      if (i === 0 && j === n - 1) continue; // neighbours over the ring's begin
      const [a, b, c, d] = [ring[i], ring[i + 1], ring[j], ring[j + 1]];
      if (side(a, b, c) * side(a, b, d) < 0 && side(c, d, a) * side(c, d, b) < 0) return true;
    }
  return false;
}
