package handoff

import (
	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"github.com/geocoris/geocoris/geo"
	inside "github.com/geocoris/geocoris/internal/geometry/planar"
)

// Middle is a place in degrees to find the field by: its centroid, or where that lies
// off the field, as of one that bends, a place inside its largest part.
func (j *Job) Middle() orb.Point {
	field := j.Ground.Field
	middle, _ := planar.CentroidArea(field)
	if !geo.Contains(field, middle) {
		largest := field[0]
		for _, part := range field[1:] {
			if geo.Area(orb.MultiPolygon{part}) > geo.Area(orb.MultiPolygon{largest}) {
				largest = part
			}
		}
		middle = inside.InsidePoint(largest)
	}
	return j.Frame.Inverse(middle)
}

// GateAt adds a place, in degrees, at which a field is entered.
func (s *Settings) GateAt(lonlat [2]float64) { s.Gates = append(s.Gates, lonlat) }

// gateReach is how far, m, a gate may lie from the field that it leads to: beyond that it
// is another's.
const gateReach = 1000

// gate is that of the places which lies nearest to the field's edge; nil where none is
// within reach.
func (s site) gate(places []orb.Point) (best *orb.Point) {
	nearest := float64(gateReach)
	for _, at := range places {
		if s.offMap(at) {
			continue
		}
		if d := geo.DistanceToEdge(s.ground, s.frame.Forward(at)); d <= nearest {
			best, nearest = &at, d
		}
	}
	return best
}
