package spray

import (
	"math"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/internal/geometry/planar"
	"github.com/geocoris/geocoris/internal/sorted"
)

// By is what the heading of the passes goes by.
type By int

// What a heading may go by.
const (
	Asked By = iota
	Rows
	LongestEdge
	FewestPasses
)

// headingOf is the heading of the passes, and what it goes by. Rows and tram lines mostly
// run along the longest edge, and a boom across them breaks the crop: that is common
// practice, no source; so the fewest passes are for who asks.
func headingOf(g *Target, s Settings) (By, float64, error) {
	switch {
	case s.Heading != nil:
		return Asked, math.Mod(*s.Heading+360, 360), nil
	case s.FewestPasses:
		best, err := bestHeading(g, s)
		return FewestPasses, best, err
	case s.Rows != nil:
		return Rows, math.Mod(*s.Rows+360, 180), nil
	}
	return LongestEdge, longestEdge(g.Field), nil
}

// straight is how far a drawn edge may wander from a straight one, m. Judgement, no source.
const straight = 2

// longestEdge is the direction of the longest edge of a field's outer rings, [0, 180),
// drawn as it may be with many points; of equal ones that of the first.
func longestEdge(field orb.MultiPolygon) float64 {
	best, longest := 0.0, -1.0
	for _, polygon := range field {
		edges := planar.SimplifiedRing(polygon[0], straight)
		for i := 1; i < len(edges); i++ {
			if l := apart(edges[i-1], edges[i]); l > longest+0.01 {
				best, longest = bearing(edges[i-1], edges[i]), l
			}
		}
	}
	return best
}

// AcrossRows is the angle between the passes and the rows, [0, 90]; ok is false where the
// rows are not known.
func (p *Plan) AcrossRows() (degrees float64, ok bool) {
	if p.Settings.Rows == nil {
		return 0, false
	}
	off := math.Abs(math.Remainder(p.Heading-*p.Settings.Rows, 180))
	return off, true
}

// headings worth trying: every whole degree, and those of the longest edges of
// the field, along which rows and tram lines mostly run.
func headings(g *Target) []float64 {
	type side struct{ heading, length float64 }
	var sides []side
	for _, polygon := range g.Field {
		for i := 1; i < len(polygon[0]); i++ {
			a, b := polygon[0][i-1], polygon[0][i]
			sides = append(sides, side{bearing(a, b), math.Hypot(b[0]-a[0], b[1]-a[1])})
		}
	}
	sorted.Stably(sides, func(a, b side) int {
		switch {
		case a.length > b.length:
			return -1
		case a.length < b.length:
			return 1
		}
		return 0
	})
	const longest = 12
	var out []float64
	for _, s := range sides[:min(longest, len(sides))] {
		out = append(out, s.heading)
	}
	for d := range 180 {
		out = append(out, float64(d))
	}
	return out
}

// bearing is the heading from a to b in [0, 180): a pass is driven either way.
func bearing(a, b orb.Point) float64 {
	h := math.Atan2(b[0]-a[0], b[1]-a[1]) * 180 / math.Pi
	if h < 0 {
		h += 180
	}
	if h >= 180 {
		h -= 180
	}
	return h + 0
}

// bestHeading is the heading with the fewest passes, cut where they would leave the
// field; among those, with the least
// length of passes; among those, the first of [headings].
func bestHeading(g *Target, s Settings) (float64, error) {
	whole := s
	whole.Sections, whole.Overrun = 1, nil
	best, bestPasses, bestLength := 0.0, math.MaxInt, math.Inf(1)
	for _, h := range headings(g) {
		w, err := newWork(g, whole, h)
		if err != nil {
			return 0, err
		}
		passes, length := 0, 0.0
		for lane := range w.lanes() {
			if need := w.needed(w.strip(w.low, lane, 0)); len(need) > 0 {
				passes += max(1, len(w.pieces(w.middle(w.low, lane), need)))
				length += total(need)
			}
		}
		if passes < bestPasses || passes == bestPasses && length < bestLength-1 {
			best, bestPasses, bestLength = h, passes, length
		}
	}
	return best, nil
}
