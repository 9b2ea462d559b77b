package interp

import "math"

// A Lattice is a set of nodes at equal steps. Node (0, 0) is the south-western
// one; columns run east, rows run north.
type Lattice struct {
	X0, Y0     float64 // metres, position of node (0, 0)
	Cell       float64 // metres between neighbouring nodes, > 0
	Cols, Rows int
}

// Node returns the position of the node at a column and a row in metres.
func (l Lattice) Node(col, row int) (x, y float64) {
	return l.X0 + float64(float64(col)*l.Cell), l.Y0 + float64(float64(row)*l.Cell)
}

// Len is the number of nodes.
func (l Lattice) Len() int { return l.Cols * l.Rows }

// A Grid is a value at each node of a lattice, row by row from the
// south-western node. NaN means no data.
type Grid struct {
	Lattice
	Values []float64 // Cols·Rows values
}

// NewGrid returns a grid that holds no data yet: every node is NaN.
func NewGrid(l Lattice) Grid {
	values := make([]float64, l.Len())
	for i := range values {
		values[i] = math.NaN()
	}
	return Grid{Lattice: l, Values: values}
}

// At returns the value at a node.
func (g Grid) At(col, row int) float64 { return g.Values[row*g.Cols+col] }
