package interp

import "math"

// Bilinear is the value at a place between four nodes: linear along x and along
// y. At a node it is the node's. It is NaN outside the lattice, at a place that
// is not finite, and where a node that counts there has no data.
func (g Grid) Bilinear(x, y float64) float64 {
	col, fx, okX := step((x-g.X0)/g.Cell, g.Cols)
	row, fy, okY := step((y-g.Y0)/g.Cell, g.Rows)
	if !okX || !okY {
		return math.NaN()
	}
	return between(
		between(g.node(col, row), g.node(col+1, row), fx),
		between(g.node(col, row+1), g.node(col+1, row+1), fx), fy)
}

// step parts a position in cells into a node and what lies beyond it, 0 to 1.
func step(at float64, nodes int) (node int, part float64, ok bool) {
	if !(at >= 0 && at <= float64(nodes-1)) {
		return 0, 0, false
	}
	node = int(at)
	return node, at - float64(node), true
}

// node is NaN beyond the last node.
func (g Grid) node(col, row int) float64 {
	if col >= g.Cols || row >= g.Rows {
		return math.NaN()
	}
	return g.At(col, row)
}

// between does not ask the end that does not count.
func between(a, b, part float64) float64 {
	switch part {
	case 0:
		return a
	case 1:
		return b
	}
	return float64(a*(1-part)) + float64(b*part)
}
