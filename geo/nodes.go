package geo

import (
	"cmp"
	"iter"
	"math"
	"slices"

	"github.com/paulmach/orb"
)

// A Lattice is a set of nodes at equal steps in the plane. Node (0, 0) is the one
// with the least coordinates; columns run along x, rows along y.
type Lattice struct {
	X0, Y0     float64 // position of node (0, 0)
	Cell       float64 // between neighbouring nodes, above 0
	Cols, Rows int
}

// Node is the position of the node at a column and a row.
func (l Lattice) Node(col, row int) orb.Point { return orb.Point{l.x(col), l.y(row)} }

func (l Lattice) x(col int) float64 { return l.X0 + float64(float64(col)*l.Cell) }
func (l Lattice) y(row int) float64 { return l.Y0 + float64(float64(row)*l.Cell) }

// NodesInside yields the columns and rows of the nodes that [Contains] finds inside
// polygons, to the bit: those on an edge or a vertex are inside, on that of a hole
// too. Rows come by rising y, and columns by rising x within each. Each edge is
// looked at once, whatever the number of nodes.
func NodesInside(mp orb.MultiPolygon, l Lattice) iter.Seq2[int, int] {
	return func(yield func(col, row int) bool) {
		for row, spans := range l.closedSpans(mp) {
			next := 0
			for _, s := range spans {
				for next = l.firstFrom(s.From, next); next < l.Cols && l.x(next) <= s.To; next++ {
					if !yield(next, row) {
						return
					}
				}
			}
		}
	}
}

// firstFrom is the first column from a given one on that lies at x or beyond it.
func (l Lattice) firstFrom(x float64, least int) int {
	col := int(max(float64(least), min(float64(l.Cols), math.Ceil((x-l.X0)/l.Cell))))
	// The division may round over a column.
	for col > least && l.x(col-1) >= x {
		col--
	}
	for col < l.Cols && l.x(col) < x {
		col++
	}
	return col
}

// closedSpans are what the rows have inside, with their ends, by their lower ends.
// They may overlap, and may be points.
func (l Lattice) closedSpans(mp orb.MultiPolygon) [][]Span {
	xs, rims := make([][]float64, l.Rows), make([][]Span, l.Rows)
	for e := range edges(mp) {
		low, high := e.upward()
		first, last := l.rowsNear(low[1], high[1])
		for row := first; row <= last; row++ {
			switch y := l.y(row); {
			case !(low[1] <= y && y <= high[1]):
			case low[1] == high[1]:
				if span := (Span{min(low[0], high[0]), max(low[0], high[0])}); span.From <= span.To {
					rims[row] = append(rims[row], span)
				}
			default:
				x := crossing(low, high, y)
				if math.IsNaN(x) {
					continue
				}
				rims[row] = append(rims[row], Span{x, x})
				if y < high[1] { // as in Contains, the upper end belongs to the next edge
					xs[row] = append(xs[row], x)
				}
			}
		}
	}
	for row := range rims {
		rims[row] = append(rims[row], odd(xs[row])...)
		slices.SortFunc(rims[row], func(a, b Span) int { return cmp.Compare(a.From, b.From) })
	}
	return rims
}

// rowsNear are rows that hold all between two heights, low and high, and one or two
// more, as the division may round over one; none where a height is not a number.
func (l Lattice) rowsNear(low, high float64) (first, last int) {
	if !(low <= high) {
		return 0, -1
	}
	rows := float64(l.Rows)
	return int(max(0, min(rows, math.Floor((low-l.Y0)/l.Cell)-1))), int(max(-1, min(rows-1, math.Ceil((high-l.Y0)/l.Cell)+1)))
}

// odd are the intervals with an odd number of crossings to their right.
func odd(xs []float64) (spans []Span) {
	slices.Sort(xs)
	for i := len(xs) - 1; i >= 0; i -= 2 {
		from := math.Inf(-1) // rings with a coordinate that is not a number
		if i > 0 {
			from = xs[i-1]
		}
		spans = append(spans, Span{from, xs[i]})
	}
	return spans
}
