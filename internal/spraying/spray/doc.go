// Package spray turns treat zones into what an applicator drives: the ground to
// spray, parallel passes over it, where the boom goes on and off, and the sums
// that go with them.
//
// Coordinates are metres in the frame of one field (see [geo.Frame]); areas are
// square metres, lengths metres, speeds metres a second, times seconds, carrier
// rates litres a hectare. Headings are degrees clockwise from the frame's north.
//
// The order of caution: keep-off ground is cut out last and never lies below a
// boom that is on; treat ground is never dropped without being listed; the dose
// is one rate or none. Nothing about a product is preset: what is not given is
// not worked out.
package spray
