package geo

import (
	"math"
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
	return pair(xs)
}

// InsideSpansOfRows is [InsideSpans] at the heights y0, y0 + step, y0 + 2·step …
// of n rows, step above 0, at the price of looking at each edge once.
func InsideSpansOfRows(mp orb.MultiPolygon, y0, step float64, n int) [][]Span {
	xs := make([][]float64, n)
	for e := range edges(mp) {
		low, high := e.upward()
		if !(low[1] < high[1]) {
			continue
		}
		// A row more on either side, as the division may round over one.
		first := math.Floor((low[1]-y0)/step) - 1
		last := math.Ceil((high[1]-y0)/step) + 1
		for row := int(max(0, first)); row <= int(min(float64(n-1), last)); row++ {
			if y := y0 + float64(float64(row)*step); low[1] <= y && y < high[1] {
				xs[row] = append(xs[row], crossing(low, high, y))
			}
		}
	}
	spans := make([][]Span, n)
	for row := range xs {
		spans[row] = pair(xs[row])
	}
	return spans
}

// pair makes spans of the places where a line meets the edges.
func pair(xs []float64) []Span {
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
