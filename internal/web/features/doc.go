// Package features answers as OGC API – Features, Part 1: Core (OGC 17-069r4), over a
// season: landing page, conformance, definition of the API (OpenAPI 3.0), collections,
// features as GeoJSON, with bbox, datetime, limit and next. It only reads, and works out
// nothing.
//
// What the standard leaves to the server: features that tell no day are in no datetime;
// days are days of UTC, as a season knows no zones of time; pages go on after a number, so
// that they stay when something is added; a limit above the most is taken as the most;
// answers have no time stamp, so that the same season gives the same bytes.
package features
