package assess

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/interp"
)

const (
	cellsAcross = 150 // cells along the side of a square field
	minCell     = 0.5 // metres
	maxCell     = 20  // metres
)

// cellFor gives the cell size in metres for a field's area in m²: √area/150 on
// the scale 1, 2, 5, 10 …, within 0.5 to 20. It does not depend on the counts,
// so weeks share it.
func cellFor(area float64) float64 {
	want := math.Sqrt(area) / cellsAcross
	decade := math.Pow(10, math.Floor(math.Log10(want)))
	best := decade
	for _, step := range []float64{2, 5, 10} {
		if c := step * decade; math.Abs(math.Log(c/want)) < math.Abs(math.Log(best/want)) {
			best = c
		}
	}
	return max(minCell, min(maxCell, best))
}

// cellOf is the cell size in metres in a field of so many m².
func cellOf(area float64, set Settings) float64 {
	if set.Cell == 0 {
		return cellFor(area)
	}
	return set.Cell
}

// latticeOver covers a field, in metres, by nodes on multiples of the cell with
// one ring of nodes beyond it.
func latticeOver(field orb.MultiPolygon, cell float64) (interp.Lattice, error) {
	if !(cell > 0) || math.IsInf(cell, 0) {
		return interp.Lattice{}, fmt.Errorf("cell size %g m: want a number above 0", cell)
	}
	b := geo.Bound(field)
	col0, row0 := math.Floor(b.Min[0]/cell)-1, math.Floor(b.Min[1]/cell)-1
	cols, rows := math.Ceil(b.Max[0]/cell)+2-col0, math.Ceil(b.Max[1]/cell)+2-row0
	if nodes := cols * rows; !(nodes <= interp.MaxNodes) {
		return interp.Lattice{}, fmt.Errorf("cells of %g m make %.3g nodes over the field, more than %d; give a larger --cell", cell, nodes, interp.MaxNodes)
	}
	return interp.Lattice{X0: col0 * cell, Y0: row0 * cell, Cell: cell, Cols: int(cols), Rows: int(rows)}, nil
}

// mask marks nodes of a lattice.
type mask struct {
	cols  int
	nodes []bool
}

// maskOf marks every node of every cell that touches the field. Level lines then
// run on beyond the field's edge before they are clipped.
func maskOf(field orb.MultiPolygon, l interp.Lattice) mask {
	m := insideOf(field, l)
	for _, polygon := range field {
		for _, ring := range polygon {
			for i := 1; i < len(ring); i++ {
				m.edge(l, ring[i-1], ring[i])
			}
		}
	}
	return m
}

// insideOf marks the nodes inside the field.
func insideOf(field orb.MultiPolygon, l interp.Lattice) mask {
	m := mask{cols: l.Cols, nodes: make([]bool, l.Len())}
	for col, row := range geo.NodesInside(field, geo.Lattice(l)) {
		m.nodes[row*m.cols+col] = true
	}
	return m
}

// Has reports whether a node is marked.
func (m mask) Has(col, row int) bool { return m.nodes[row*m.cols+col] }

func (m mask) mark(row int, from, to float64) {
	if row < 0 || (row+1)*m.cols > len(m.nodes) {
		return
	}
	for col := max(0, int(from)); col <= min(m.cols-1, int(to)); col++ {
		m.nodes[row*m.cols+col] = true
	}
}

// edge marks the nodes of the cells that an edge runs through, row by row.
func (m mask) edge(l interp.Lattice, a, b orb.Point) {
	ax, ay := (a[0]-l.X0)/l.Cell, (a[1]-l.Y0)/l.Cell
	bx, by := (b[0]-l.X0)/l.Cell, (b[1]-l.Y0)/l.Cell
	if ay > by {
		ax, ay, bx, by = bx, by, ax, ay
	}
	for row := int(math.Floor(ay)); row <= int(math.Floor(by)); row++ {
		x0, x1 := ax, bx
		if by > ay {
			x0 = ax + (bx-ax)*(max(ay, float64(row))-ay)/(by-ay)
			x1 = ax + (bx-ax)*(min(by, float64(row+1))-ay)/(by-ay)
		}
		from, to := math.Floor(min(x0, x1)-rim), math.Floor(max(x0, x1)+rim)+1
		m.mark(row, from, to)
		m.mark(row+1, from, to)
	}
}

// rim widens an edge by a share of a cell against rounding in the crossings.
const rim = 1e-6
