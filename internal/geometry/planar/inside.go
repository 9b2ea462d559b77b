package planar

import (
	"slices"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
)

// InsidePoint returns a place inside a polygon with ground, off its border: the
// middle of a piece of a level line half-way between two vertices' heights, the
// highest gap first. It is content with a piece an eighth as wide as the polygon
// is on the whole, since a face may have a long tip that is thinner than the
// arithmetic.
func InsidePoint(polygon orb.Polygon) orb.Point {
	const levelsTried = 64
	mp := orb.MultiPolygon{polygon}
	bound := boundOf(polygon[0])
	content := geo.Area(mp) / (bound.Max[1] - bound.Min[1]) / 8
	var y float64
	var best geo.Span
	all := gaps(polygon)
	for i := range all {
		g := takeHighest(all)
		level := g.low + (g.high-g.low)/2
		for _, span := range geo.InsideSpans(mp, level) {
			if span.To-span.From > best.To-best.From {
				best, y = span, level
			}
		}
		if best.To-best.From >= content || i == levelsTried {
			break
		}
	}
	if best.From == best.To { // a sliver thinner than the arithmetic
		return polygon[0][0]
	}
	return orb.Point{best.From + (best.To-best.From)/2, y}
}

// gap is a range of heights without a vertex.
type gap struct{ low, high float64 }

// gaps are those between the vertices of a polygon's shell and holes, from below.
func gaps(polygon orb.Polygon) (all []gap) {
	points := 0
	for _, ring := range polygon {
		points += len(ring)
	}
	ys := make([]float64, 0, points)
	for _, ring := range polygon {
		for _, p := range ring {
			ys = append(ys, p[1])
		}
	}
	slices.Sort(ys)
	all = make([]gap, 0, points)
	for i := 1; i < len(ys); i++ {
		if ys[i] > ys[i-1] {
			all = append(all, gap{ys[i-1], ys[i]})
		}
	}
	return all
}

// takeHighest takes the highest gap out of a list, of equal ones the first, and leaves an
// empty one in its place: few are asked for.
func takeHighest(all []gap) gap {
	best := 0
	for i, g := range all {
		if g.high-g.low > all[best].high-all[best].low {
			best = i
		}
	}
	highest := all[best]
	all[best] = gap{}
	return highest
}
