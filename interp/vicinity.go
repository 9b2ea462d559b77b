package interp

import (
	"math"
	"slices"
)

// blockSide is how many nodes a block has along each side.
const blockSide = 8

// byBlocks finds the nearest samples for a block of nodes at once, to the last
// bit as Predict does for each.
func (f *filling) byBlocks(w *weighting) way {
	return way{blockSide, blockSide, func() func(tile) {
		var nodes []node
		v := vicinity{neighbors: w.neighbors, want: w.wanted()}
		return func(t tile) {
			nodes = f.nodes(t, nodes[:0])
			if !v.surround(nodes) {
				f.predict(nodes)
				return
			}
			for _, n := range nodes {
				near := v.nearest(n.x, n.y)
				f.value.Values[n.at] = w.mean(near)
				if f.distances != nil {
					f.distance.Values[n.at] = math.Sqrt(near[0].d2)
				}
			}
		}
	}}
}

// vicinity is a few nodes side by side and the samples among which the nearest of
// each of them lie. Where the k-th sample is D from the centre of the nodes, a place
// δ from the centre has its k-th within D + δ (triangle inequality), and so none of
// its k nearest is farther than D + 2δ from the centre.
type vicinity struct {
	*neighbors
	want       int     // k
	x, y       float64 // the centre
	candidates []found // the nearest to the node that was asked last first
}

// candidatesPerWanted bounds the candidates, for each sample that is looked for:
// with more of them a search round each node is quicker.
const candidatesPerWanted = 8

// surround finds the candidates for nodes. It is false where it does not pay: there
// are no nodes, too many samples stand so near, or the nodes are beyond reach.
func (v *vicinity) surround(nodes []node) bool {
	half, ok := v.centre(nodes)
	if !ok {
		return false
	}
	v.candidates = slices.Grow(v.candidates[:0], v.want)[:0]
	first := v.neighbors.nearest(v.x, v.y, none, v.candidates[:0:v.want])
	reach := math.Inf(1) // where there are fewer
	if len(first) == v.want {
		reach = math.Sqrt(first[v.want-1].d2) + 2*half
	}
	return v.gather(reach*(1+1e-9) + 1e-150) // roots are rounded
}

// centre puts the centre amid the nodes, and says how far the farthest corner is.
func (v *vicinity) centre(nodes []node) (half float64, ok bool) {
	if len(nodes) == 0 {
		return 0, false
	}
	x0, y0, x1, y1 := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for _, n := range nodes {
		x0, y0, x1, y1 = min(x0, n.x), min(y0, n.y), max(x1, n.x), max(y1, n.y)
	}
	v.x, v.y = x0+(x1-x0)/2, y0+(y1-y0)/2
	half = math.Hypot(max(x1-v.x, v.x-x0), max(y1-v.y, v.y-y0))
	return half, reachable(x0, y0) && reachable(x1, y1)
}

// gather makes candidates of the samples within reach of the centre. A sample's
// column and row grow with its place, so that rounding hides none. It is false
// where the cells hold too many.
func (v *vicinity) gather(reach float64) bool {
	v.candidates = v.candidates[:0]
	col0, col1, row0, row1 := v.col(v.x-reach), v.col(v.x+reach), v.row(v.y-reach), v.row(v.y+reach)
	looked := 0
	for row := row0; row <= row1; row++ {
		run := v.span(row, col0, col1)
		if looked += int(run[1] - run[0]); looked > candidatesPerWanted*(v.want+1) {
			return false
		}
		for at := run[0]; at < run[1]; at++ {
			dx, dy := v.xs[at]-v.x, v.ys[at]-v.y
			if float64(dx*dx)+float64(dy*dy) <= reach*reach {
				v.candidates = append(v.candidates, found{id: v.id[at], at: at})
			}
		}
	}
	return true
}

// nearest is [neighbors.nearest] at one of the nodes; the list is good until the
// next is asked. A node's neighbours are nearly in order for the next.
func (v *vicinity) nearest(x, y float64) []found {
	c, xs, ys := v.candidates, v.xs, v.ys
	for i := range c {
		dx, dy := xs[c[i].at]-x, ys[c[i].at]-y
		c[i].d2 = float64(dx*dx) + float64(dy*dy)
	}
	near := c[:min(v.want, len(c))]
	for i := 1; i < len(near); i++ {
		if !(near[i-1].d2 < near[i].d2) { // seldom
			settle(near[:i+1])
		}
	}
	last := len(near) - 1
	for i := len(near); i < len(c); i++ {
		if !(near[last].d2 < c[i].d2) && c[i].before(near[last]) {
			c[i], near[last] = near[last], c[i]
			settle(near)
		}
	}
	return near
}
