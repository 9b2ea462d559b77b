package spray

import (
	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
)

// A strip is the ground that one section of the boom passes over: all places
// with low ≤ y ≤ high, where x runs along the pass and y across it.
type strip struct {
	low, high float64
	middle    float64 // of the boom, while a section passes over the strip
}

// inner leaves out a hair on either side, so that ground which merely touches a
// strip does not lie in it.
func (s strip) inner() strip { return strip{s.low + hair, s.high - hair, s.middle} }

// hair is a micrometre: above what the arithmetic loses on a field, below any
// ground worth spraying.
const hair = 1e-6

// touched returns where, along the pass, some of the ground lies in the strip: a
// line across the strip meets the ground either on a border inside the strip, or
// all along, and then on the strip's own edges too.
func (s strip) touched(ground orb.MultiPolygon) []geo.Span {
	spans := append(s.borders(ground), geo.InsideSpans(ground, s.low)...)
	return united(append(spans, geo.InsideSpans(ground, s.high)...))
}

// filled returns where, within reach, the strip lies in the ground over its
// whole width.
func (s strip) filled(ground orb.MultiPolygon, reach geo.Span) []geo.Span {
	gaps := s.borders(ground)
	for _, y := range [2]float64{s.low, s.high} {
		gaps = append(gaps, without([]geo.Span{reach}, geo.InsideSpans(ground, y))...)
	}
	return without([]geo.Span{reach}, united(gaps))
}

// borders are the shadows on the pass of the pieces of border in the strip.
func (s strip) borders(ground orb.MultiPolygon) (spans []geo.Span) {
	for _, polygon := range ground {
		for _, ring := range polygon {
			for i := 1; i < len(ring); i++ {
				if span, ok := s.shadow(ring[i-1], ring[i]); ok {
					spans = append(spans, span)
				}
			}
		}
	}
	return spans
}

// shadow is the part of the x of an edge for which it lies in the strip.
func (s strip) shadow(a, b orb.Point) (geo.Span, bool) {
	if a[1] > b[1] {
		a, b = b, a
	}
	if b[1] < s.low || a[1] > s.high {
		return geo.Span{}, false
	}
	from, to := a[0], b[0]
	if a[1] < s.low {
		from = at(a, b, s.low)
	}
	if b[1] > s.high {
		to = at(a, b, s.high)
	}
	return geo.Span{From: min(from, to), To: max(from, to)}, true
}

// at is the x of an edge at a height between its ends.
func at(a, b orb.Point, y float64) float64 {
	return a[0] + float64((b[0]-a[0])*((y-a[1])/(b[1]-a[1])))
}
