package geo

import (
	"slices"

	"github.com/paulmach/orb"
)

// A Span is an interval of x, From < To.
type Span struct{ From, To float64 }

// InsideSpans cuts the polygons with the horizontal line at y and returns the
// pieces inside, sorted and apart from one another. It is [Contains] for a
// whole row of a grid at the price of one point: both compute where the line
// meets an edge with the same arithmetic, so they agree to the bit except on
// the boundary.
//
// On the boundary: the ends of a span are on an edge. An edge counts from its
// lower end up to, not including, its upper end, and level edges not at all.
// So a line along the bottom of a polygon, or the top of a hole, is inside and
// one along the top of a polygon, or the bottom of a hole, is outside: of two
// polygons one above the other exactly one has the line between them. Spans
// without length are left out and spans that touch are joined.
//
// The result is nil where nothing is inside, and for y not a number.
func InsideSpans(mp orb.MultiPolygon, y float64) []Span {
	var xs []float64
	for e := range edges(mp) {
		if low, high := e.upward(); low[1] <= y && y < high[1] {
			xs = append(xs, crossing(low, high, y))
		}
	}
	slices.Sort(xs)
	var spans []Span
	for i := 0; i+1 < len(xs); i += 2 {
		from, to := xs[i], xs[i+1]
		switch last := len(spans) - 1; {
		case !(from < to):
		case last >= 0 && spans[last].To == from:
			spans[last].To = to
		default:
			spans = append(spans, Span{from, to})
		}
	}
	return spans
}

// crossing returns the x at which the edge from low to high, not level, has the
// height y between theirs. It is exact at the ends, and never leaves the edge's
// own range of x.
func crossing(low, high orb.Point, y float64) float64 {
	switch {
	case y == low[1]:
		return low[0]
	case y == high[1]:
		return high[0]
	}
	t := (y - low[1]) / (high[1] - low[1])
	x := low[0] + float64(t*(high[0]-low[0]))
	return max(min(low[0], high[0]), min(max(low[0], high[0]), x))
}
