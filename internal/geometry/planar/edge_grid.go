package planar

import (
	"math"

	"github.com/paulmach/orb"
)

// edgeGrid finds edges by where they lie. What is no longer there is not taken out: who
// asks knows.
type edgeGrid struct {
	box   orb.Bound
	side  float64
	size  [2]int
	cells [][]int32
}

// mostCells along one side of a grid.
const mostCells = 256

func newEdgeGrid(points []orb.Point) edgeGrid {
	g := edgeGrid{box: orb.MultiPoint(points).Bound()}
	wide, high := g.box.Max[0]-g.box.Min[0], g.box.Max[1]-g.box.Min[1]
	across := min(mostCells, 1+int(math.Sqrt(float64(len(points)))))
	g.side = max(wide, high, 1e-9) / float64(across)
	g.size = [2]int{1 + int(wide/g.side), 1 + int(high/g.side)}
	g.cells = make([][]int32, g.size[0]*g.size[1])
	return g
}

// index is the column or row of a place, held within the grid.
func (g *edgeGrid) index(axis int, v float64) int {
	return max(0, min(g.size[axis]-1, int(math.Floor((v-g.box.Min[axis])/g.side))))
}

// add puts an edge into all cells that it may cross, row by row.
func (g *edgeGrid) add(edge int, a, b orb.Point) {
	if a[1] > b[1] {
		a, b = b, a
	}
	first, last := g.index(1, a[1]), g.index(1, b[1])
	for row := first; row <= last; row++ {
		low, high := a, b
		if last > first { // the piece of the edge in this row, a little longer
			y0, y1 := g.box.Min[1]+float64(float64(row)*g.side), g.box.Min[1]+float64(float64(row+1)*g.side)
			at := func(y float64) orb.Point {
				t := max(0, min(1, (y-a[1])/(b[1]-a[1])))
				return orb.Point{a[0] + float64(t*(b[0]-a[0])), y}
			}
			low, high = at(y0-1e-6*g.side), at(y1+1e-6*g.side)
		}
		from, to := g.index(0, min(low[0], high[0])-1e-6*g.side), g.index(0, max(low[0], high[0])+1e-6*g.side)
		for col := from; col <= to; col++ {
			cell := &g.cells[row*g.size[0]+col]
			*cell = append(*cell, int32(edge))
		}
	}
}

// any reports whether one of the edges near a box is found. An edge may be asked for
// several times.
func (g *edgeGrid) any(box orb.Bound, found func(edge int) bool) bool {
	for row := g.index(1, box.Min[1]); row <= g.index(1, box.Max[1]); row++ {
		for col := g.index(0, box.Min[0]); col <= g.index(0, box.Max[0]); col++ {
			for _, edge := range g.cells[row*g.size[0]+col] {
				if found(int(edge)) {
					return true
				}
			}
		}
	}
	return false
}
