package spray

import (
	"math"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
)

// stretched is a polygon of closed rings, cut into stretches: held against a line that leads
// anywhere, it is looked at closely only where it is near the line.
type stretched []stretch

// A stretch is places of a ring that follow one another.
type stretch struct {
	places []orb.Point
	halves []stretch // of a long one; the last place of the first is the first of the second
	middle orb.Point
	half   float64 // no place is farther from the middle
}

func newStretched(polygon orb.Polygon) stretched {
	var out stretched
	for _, ring := range polygon {
		if len(ring) > 0 {
			out = append(out, newStretch(ring))
		}
	}
	return out
}

// shortStretch is how many places are not worth halving.
const shortStretch = 8

func newStretch(places []orb.Point) stretch {
	box := orb.LineString(places).Bound()
	s := stretch{places: places, middle: box.Center(), half: apart(box.Min, box.Max) / 2}
	if n := len(places) / 2; n >= shortStretch {
		s.halves = []stretch{newStretch(places[:n+1]), newStretch(places[n:])}
	}
	return s
}

// spans are geo.InsideSpans of the polygon once it is turned.
func (s stretched) spans(t turned, y float64) []geo.Span {
	var polygon orb.Polygon
	for _, ring := range s {
		if !ring.beside(t, y) {
			polygon = append(polygon, ring.near(t, y, nil))
		}
	}
	return geo.InsideSpans(orb.MultiPolygon{polygon}, y)
}

// beside reports whether all of a stretch lies on one side of a line, so that no edge of it
// meets the line.
func (s stretch) beside(t turned, y float64) bool {
	return math.Abs(t.into(s.middle)[1]-y) > s.half+step
}

// near adds the places up to the last, turned; of what lies on one side of the line only the
// first.
func (s stretch) near(t turned, y float64, ring orb.Ring) orb.Ring {
	switch {
	case s.beside(t, y):
		return append(ring, t.into(s.places[0]))
	case s.halves != nil:
		return s.halves[1].near(t, y, s.halves[0].near(t, y, ring))
	}
	for _, p := range s.places[:max(1, len(s.places)-1)] {
		ring = append(ring, t.into(p))
	}
	return ring
}
