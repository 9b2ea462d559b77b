package season

import "github.com/geocoris/geocoris/geo"

// A Window is what of a layer is asked for. The zero value is all of it.
type Window struct {
	Boxes    [][4]float64 // west, south, east, north in degrees; any of them is touched; none for everywhere
	From, To string       // ISO 8601 days, both included; "" for open. What tells no day is in no time
	After    int64        // numbers above it
	Limit    int          // 0 for none
}

// A Page is features of a layer in the order of their numbers, which are their IDs.
type Page struct {
	Features []geo.Feature
	Matched  int  // in the window, whatever After and Limit
	More     bool // are above the last
}

// An Extent is where and when the features of a layer are.
type Extent struct {
	Box         [4]float64 // west, south, east, north in degrees
	First, Last string     // ISO 8601 days; "" where none is told
}
