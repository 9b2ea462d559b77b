// The red ground of the last visit, from the zones that the map of it left.
import { say } from "./words.js";

// weekOf is the red ground in a zones.geojson as { geometry }: that of the field where the
// file names it, as it may hold others, else all of it. What is no such file is an Error in
// words of the page.
export function weekOf(text, name) {
  let features;
  try {
    features = JSON.parse(text).features;
  } catch {
    features = null;
  }
  if (!Array.isArray(features) || !features.some(f => f?.properties?.zone)) throw new Error(say("last-week-wrong"));
  const own = features.filter(f => f.properties?.field === name), red = (own.length ? own : features).filter(f => f.properties?.zone === "treat" && isGround(f.geometry));
  return red.map(f => ({ geometry: f.geometry }));
}

// isGround says whether a geometry is a polygon or several, of places on the earth.
function isGround(geometry) {
  const rings = geometry?.type === "Polygon" ? geometry.coordinates : geometry?.type === "MultiPolygon" ? geometry.coordinates?.flat?.() : null;
  return Array.isArray(rings) && rings.length > 0 && rings.every(ring => Array.isArray(ring) && ring.every(p => Math.abs(p?.[0]) <= 180 && Math.abs(p?.[1]) <= 90));
}
