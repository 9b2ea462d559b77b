package interp

import "slices"

// tile is a rectangle of nodes that one goroutine fills at a time.
type tile struct{ col, row, cols, rows int }

// tiling cuts a lattice into tiles, row by row from the south-western one.
type tiling struct {
	lattice       Lattice
	width, height int // nodes; less at the eastern and northern sides
}

func (t tiling) across() int { return (t.lattice.Cols + t.width - 1) / t.width }
func (t tiling) count() int  { return t.across() * ((t.lattice.Rows + t.height - 1) / t.height) }

func (t tiling) tile(at int) tile {
	col, row := at%t.across()*t.width, at/t.across()*t.height
	return tile{col, row, min(t.width, t.lattice.Cols-col), min(t.height, t.lattice.Rows-row)}
}

// way is how a predictor is best asked for many nodes.
type way struct {
	width, height int               // of its tiles
	worker        func() func(tile) // one for each goroutine, with scratch of its own
}

// singly asks for one node after the other.
func (f *filling) singly() way {
	return way{f.lattice.Cols, 1, func() func(tile) {
		var nodes []node
		return func(t tile) {
			nodes = f.nodes(t, nodes[:0])
			f.predict(nodes)
		}
	}}
}

func (f *filling) predict(nodes []node) {
	if f.distances != nil {
		for _, n := range nodes {
			f.value.Values[n.at], f.distance.Values[n.at] = f.distances.PredictWithDistance(n.x, n.y)
		}
		return
	}
	for _, n := range nodes {
		f.value.Values[n.at] = f.predictor.Predict(n.x, n.y)
	}
}

// node is one to fill.
type node struct {
	x, y float64
	at   int // in the grids
}

// nodes appends those of a tile that are on the mask, row by row, every other one from
// east to west: each node is then near the one before.
func (f *filling) nodes(t tile, dst []node) []node {
	for row := t.row; row < t.row+t.rows; row++ {
		from := len(dst)
		for col := t.col; col < t.col+t.cols; col++ {
			if f.set.Mask == nil || f.set.Mask(col, row) {
				x, y := f.lattice.Node(col, row)
				dst = append(dst, node{x, y, row*f.lattice.Cols + col})
			}
		}
		if (row-t.row)%2 == 1 {
			slices.Reverse(dst[from:])
		}
	}
	return dst
}
