package spray

import (
	"math"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/geometry/planar"
)

// A Lattice is cells of equal size in some plane: column 0 begins at the west,
// row 0 at the south.
type Lattice struct {
	// Cell takes metres to columns and rows, counted from the south-west corner.
	// It must keep straight lines nearly straight over a cell.
	Cell          func(xy orb.Point) orb.Point
	Columns, Rows int
}

// LeastShare is the share of a cell that must be spray ground for the cell to be on.
// Half is the rule by which what is sprayed in vain and what is missed weigh the same.
const LeastShare = 0.5

// cellHair is the share of a cell that arithmetic may put on the wrong side of a line
// along which both lie.
const cellHair = 1e-6

// Cells tell, row by row from the south, each from the west, how a lattice sprays.
type Cells struct {
	On []bool
	// Spray is the share of each cell that is spray ground, 0 to 1.
	Spray []float64
}

// Raster puts the ground on cells. One is on where [LeastShare] of it or more is spray
// ground, none of it is closed and none reaches past the field by more than 2 cm: by so
// much files may move a place.
func (g *Target) Raster(l Lattice) (Cells, error) {
	wide, err := planar.Grow(g.Field, guard)
	if err != nil {
		return Cells{}, err
	}
	spray, closed, field := l.Shares(g.Spray), l.Shares(g.Closed), l.Shares(wide)
	on := make([]bool, len(spray))
	for i := range on {
		on[i] = spray[i] >= LeastShare-cellHair && closed[i] <= cellHair && field[i] >= 1-cellHair
	}
	return Cells{On: on, Spray: spray}, nil
}

// Shares are the shares of the cells that lie in ground, 0 to 1, row by row.
//
// The area left of an edge, within its rows, is added to the cells that the edge
// passes and to all cells east of them, with its sign: up takes away, down adds.
// Over closed rings that adds up to the ground's share, exactly but for rounding.
func (l Lattice) Shares(ground orb.MultiPolygon) []float64 {
	out := make([]float64, l.Columns*l.Rows)
	onward := make([]float64, l.Columns*l.Rows+1) // what a cell hands to all east of it
	for _, polygon := range mapped(geo.Wind(ground), l.Cell) {
		for _, ring := range polygon {
			for i := 1; i < len(ring); i++ {
				l.edge(ring[i-1], ring[i], out, onward)
			}
		}
	}
	for row := range l.Rows {
		sum := 0.0
		for i := row * l.Columns; i < (row+1)*l.Columns; i++ {
			out[i] = min(max(out[i]+sum, 0), 1)
			sum += onward[i]
		}
	}
	return out
}

// edge adds one edge, row by row.
func (l Lattice) edge(a, b orb.Point, out, onward []float64) {
	sign := -1.0 // rings run with the ground at their left: it lies west of an edge that goes up
	if a[1] > b[1] {
		a, b, sign = b, a, 1
	}
	if a[1] == b[1] {
		return
	}
	first, last := max(0, int(math.Floor(a[1]))), min(l.Rows-1, int(math.Floor(b[1])))
	for row := first; row <= last; row++ {
		low, high := max(a[1], float64(row)), min(b[1], float64(row+1))
		if high > low {
			l.piece(row, at(a, b, low), at(a, b, high), sign*(high-low), out, onward)
		}
	}
}

// piece adds the part of an edge in one row, from one x to another, of a height that
// has the edge's sign. East of it all cells get the height, cells that it passes the
// share of theirs that lies east of it.
func (l Lattice) piece(row int, x0, x1, height float64, out, onward []float64) {
	if x0 > x1 {
		x0, x1 = x1, x0
	}
	share := func(from, to float64) float64 { // of the height
		if x1 == x0 {
			return height
		}
		return height * (to - from) / (x1 - x0)
	}
	start := row * l.Columns
	if x0 < 0 { // west of all cells
		part := share(x0, min(x1, 0))
		out[start] += part
		onward[start] += part
	}
	for c := max(0, int(math.Floor(x0))); c <= min(l.Columns-1, int(math.Floor(x1))); c++ {
		from, to := max(x0, float64(c)), min(x1, float64(c+1))
		part := share(from, to)
		out[start+c] += part * (float64(c+1) - (from+to)/2)
		onward[start+c] += part
	}
}
