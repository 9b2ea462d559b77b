package assess

import (
	"math"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/geometry/planar"
	"github.com/geocoris/geocoris/interp"
)

// reach is how far from a stop ground counts as seen: this many times the
// spacing of stops, and never less than leastReach metres. Our choice, no source.
const (
	reachSpacings = 1.5
	leastReach    = 30
)

// reachOf is the reach of stops in a field of so many m², and no more than a search
// radius, beyond which nothing is known.
func reachOf(area float64, samples []interp.Sample, radius float64) float64 {
	places := interp.Pool(samples)
	at := make([]orb.Point, len(places))
	for i, p := range places {
		at[i] = orb.Point{p.X, p.Y}
	}
	reach := max(leastReach, reachSpacings*spacing(area, len(samples), at))
	if radius > 0 {
		reach = min(reach, radius)
	}
	return reach
}

// spacing is how far apart in metres so many stops stand, at places that differ, in a field
// of so many m²: as the ground for each has it, or the ground that they span.
func spacing(area float64, stops int, at []orb.Point) float64 {
	return min(math.Sqrt(area/float64(stops)), standing(at))
}

// standing is the spacing in metres of stops as they stand, however large the field
// round them: s of n·s² = H + P·s/2 + π·s²/4, the ground that they span, with area H
// and perimeter P, and half a spacing round it. One place has the spacing 0.
func standing(at []orb.Point) float64 {
	hull := planar.Hull(at)
	var around float64
	for i := 1; i < len(hull); i++ {
		around += math.Hypot(hull[i][0]-hull[i-1][0], hull[i][1]-hull[i-1][1])
	}
	half, n := around/4, float64(len(at))-math.Pi/4
	return (half + math.Sqrt(float64(half*half)+float64(n*geo.Area(orb.MultiPolygon{{hull}})))) / n
}
