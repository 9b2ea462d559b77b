// Package interp turns values at scattered points into values on a regular
// lattice: inverse distance weighting with its neighbour search, variograms and
// ordinary kriging, the chance of counts being over a level, and the
// leave-one-out scores that say how far the result may be believed.
//
// Coordinates are metres in a plane. The package knows neither degrees nor
// fields: callers hand it X and Y of a local metric frame, and a mask as a
// predicate. Missing values are NaN throughout.
package interp
