package geo

import "github.com/paulmach/orb"

// A Field is a named piece of ground.
//
// Boundary is in degrees, longitude before latitude, on WGS 84. It is valid in
// the sense of OGC 06-103r4 §6.1.11 (rings closed and simple, holes inside
// their outer ring, interiors apart) and wound as RFC 7946 §3.1.6 asks: outer
// rings counter-clockwise, holes clockwise. Holes, such as ponds and waterways,
// are not field. Readers establish all this; a Field made by hand is taken at
// its word.
type Field struct {
	Name     string
	Boundary orb.MultiPolygon
	// Written is its name as the boundary's file has it, which others of the file may have
	// too; "" where it has none, or where that is not known.
	Written string
	// Customer and Farm are whose it is; "" where that is not known.
	Customer, Farm string
}
