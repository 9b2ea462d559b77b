// Where one stands: fixes of a phone put together, and distances over a field.
// Places are {longitude, latitude} in degrees on WGS 84, accuracies are metres.

// combine is the place that fixes agree on, null without one. Fixes worse than twice the
// best are dropped; the others are weighted by accuracy⁻². The accuracy is that of the
// best fix: errors of fixes that follow one another are much the same, so that many are
// hardly better than one, and nothing is divided by √n.
export function combine(fixes) {
  const sound = fixes.filter(f => Number.isFinite(f.longitude) && Number.isFinite(f.latitude) && f.accuracy >= 0);
  if (!sound.length) return null;
  const best = Math.min(...sound.map(f => f.accuracy));
  const kept = sound.filter(f => f.accuracy <= 2 * best);
  const from = kept[0]; // sums of differences are exact where fixes agree, and sound on both sides of 180°
  let weights = 0, east = 0, north = 0;
  for (const f of kept) {
    const w = 1 / Math.max(f.accuracy, 0.01) ** 2; // a phone that says 0 m is not that good
    weights += w;
    east += w * turned(f.longitude - from.longitude);
    north += w * (f.latitude - from.latitude);
  }
  return { longitude: turned(from.longitude + east / weights), latitude: from.latitude + north / weights, accuracy: best, fixes: kept.length };
}

// turned is an angle in degrees from -180 up to 180.
const turned = angle => ((angle + 180) % 360 + 360) % 360 - 180;

// sigma is the standard deviation along one axis, in metres: browsers tell a radius that
// is to hold 95 % (W3C Geolocation), and phones often mean 68 %, for which a circle of
// two equal deviations has 1.515 of one.
export const sigma = accuracy => accuracy / 1.515;

// Radii of the ellipsoid WGS 84, in metres.
const EQUATOR = 6378137, FLATTENING = 1 / 298.257223563;

// localFrame takes places to metres east and north of a centre and back: good to a
// millimetre a metre within some kilometres, for drawing and for finding a stop. Areas
// and zones come from the engine.
export function localFrame(centre) {
  const phi = centre.latitude * Math.PI / 180, e2 = FLATTENING * (2 - FLATTENING);
  const q = 1 - e2 * Math.sin(phi) ** 2;
  const east = EQUATOR / Math.sqrt(q) * Math.cos(phi) * Math.PI / 180;
  const north = EQUATOR * (1 - e2) / q ** 1.5 * Math.PI / 180;
  return {
    forward: p => [turned(p.longitude - centre.longitude) * east, (p.latitude - centre.latitude) * north],
    inverse: ([x, y]) => ({ longitude: turned(centre.longitude + x / east), latitude: centre.latitude + y / north }),
  };
}

// way is the distance in metres and the bearing in degrees, clockwise from north, from
// one place to another.
export function way(from, to) {
  const middle = { longitude: from.longitude, latitude: (from.latitude + to.latitude) / 2 };
  const frame = localFrame(middle);
  const [ax, ay] = frame.forward(from), [bx, by] = frame.forward(to);
  return { metres: Math.hypot(bx - ax, by - ay), bearing: (Math.atan2(bx - ax, by - ay) * 180 / Math.PI + 360) % 360 };
}

// quarter is the number, from 0, of the wind that a bearing is nearest to: north,
// north-east and on round.
export const quarter = bearing => Math.round(bearing / 45) % 8;

// parsePlace reads a place that was pasted, as "35.9, -101.6" or with N, S, E and W;
// null where it cannot be known. Without letters latitude comes first, as maps give it.
export function parsePlace(text) {
  const number = String.raw`([+-]?\d{1,3}(?:\.\d+)?)\s*°?`;
  const m = new RegExp(`^\\s*([NSEW])?\\s*${number}\\s*([NSEW])?[\\s,;]+([NSEW])?\\s*${number}\\s*([NSEW])?\\s*$`, "i").exec(text.replaceAll("−", "-"));
  if (!m) return null;
  const parts = [[m[1] || m[3], m[2]], [m[4] || m[6], m[5]]].map(([letter, n]) => [(letter || "").toUpperCase(), Number(n)]);
  const lettered = parts.filter(p => p[0]).length;
  if (lettered === 1) return null;
  if (lettered === 2 && "NS".includes(parts[0][0]) === "NS".includes(parts[1][0])) return null;
  if (lettered === 2 && "EW".includes(parts[0][0])) parts.reverse();
  const [latitude, longitude] = parts.map(([letter, n]) => letter === "S" || letter === "W" ? -Math.abs(n) : n);
  if (Math.abs(latitude) > 90 || Math.abs(longitude) > 180) return null;
  return { longitude, latitude };
}
