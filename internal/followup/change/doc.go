// Package change lays visits to one field on one another: what grew and what
// fell at each node of the field's own lattice, which ground changed its zone,
// where the hotspots went, and what is to be expected.
//
// Lengths are metres in the field's frame, areas m², times days, rates per day.
// A figure of a place that a visit had no stop near is NaN, never 0. The
// lattice comes from the field and the cell size, so all visits share it; grids
// on different lattices are an error.
package change
