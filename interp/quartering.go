//go:build !small

package interp

import "math"

const (
	// leafSide is how many nodes the smallest square has along each side.
	leafSide = 32
	// farTile is how many a tile has, or less where the lattice makes fewer than
	// farTiles of them and processors would stand idle.
	farTile, farTiles = 256, 16
	// From so many samples and nodes on polynomials are quicker than sums.
	farSamples, farNodes = 500, 1 << 16
)

// farFieldPays tells the settings and sizes that byFarField serves. Squares are laid
// out by the lattice, so its nodes must stand where its steps say, to the digits that
// a float has at their coordinates.
func (w *weighting) farFieldPays(l Lattice) bool {
	x1, y1 := l.Node(l.Cols, l.Rows)
	outermost := max(math.Abs(l.X0), math.Abs(l.Y0), math.Abs(x1), math.Abs(y1))
	return w.Neighbors == AllNeighbors && w.weigh == 2 && math.IsInf(w.radius, 1) &&
		len(w.xs) >= farSamples && l.Len() >= farNodes && outermost <= 1e6*l.Cell
}

// byFarField weighs all samples by 1/d², those far away by polynomials: within 1.2e-10
// of the range of the values of what Predict says, and equal to it on samples.
// Distances are the same.
func (f *filling) byFarField(w *weighting) way {
	side := farTile
	for side > leafSide && (tiling{f.lattice, side, side}).count() < farTiles {
		side /= 2
	}
	return way{side, side, func() func(tile) {
		q := quartering{filling: f, w: w}
		all := make([]int32, len(w.xs))
		for i := range all {
			all[i] = int32(i)
		}
		return func(t tile) {
			q.level(0).field = field{}
			q.descend(0, tile{t.col, t.row, side, side}, all)
		}
	}}
}

// quartering halves a square tile in both directions down to leaves. A sample is taken
// into the field of the largest square that it is far from; those that are near a leaf
// are added up node by node.
type quartering struct {
	*filling
	w       *weighting
	levels  []*level
	row     []node
	closeBy says
	dy2     []float64
}

// level is the scratch for squares of one size.
type level struct {
	field field
	far   says
	near  []int32 // the positions of others in the order of the cells
}

func (q *quartering) level(depth int) *level {
	for len(q.levels) <= depth {
		q.levels = append(q.levels, &level{})
	}
	return q.levels[depth]
}

// descend fills a square, of which a part may lie off the lattice. Its field is that of
// the samples that are far from larger squares; the others are those at hand.
func (q *quartering) descend(depth int, square tile, atHand []int32) {
	here := q.level(depth)
	x, y, half := q.frame(square)
	here.part(q.w, atHand, x, y, farHalves*half)
	here.field.add(&here.far, x, y, half)
	if square.cols == leafSide {
		q.leaf(here, square, 2*half)
		return
	}
	side := square.cols / 2
	for i := range 4 {
		part := tile{square.col + i%2*side, square.row + i/2*side, side, side}
		if q.anyNode(part) {
			q.level(depth+1).field.quarter(&here.field, [2]bases{lower, upper}[i%2], [2]bases{lower, upper}[i/2])
			q.descend(depth+1, part, here.near)
		}
	}
}

// frame is a square's centre and half its side in metres; nodes stand amid cells.
func (q *quartering) frame(square tile) (x, y, half float64) {
	l, steps := q.lattice, float64(square.cols)/2
	return l.X0 + float64((float64(square.col)+steps-0.5)*l.Cell), l.Y0 + float64((float64(square.row)+steps-0.5)*l.Cell), steps * l.Cell
}

// part tells samples that are far, or more, from a centre from those that are not.
func (lv *level) part(w *weighting, atHand []int32, x, y, far float64) {
	lv.far.clear()
	lv.near = lv.near[:0]
	for _, at := range atHand {
		if math.Abs(w.xs[at]-x) >= far || math.Abs(w.ys[at]-y) >= far {
			lv.far.add(w.xs[at], w.ys[at], w.shared(1, at), w.values[at])
		} else {
			lv.near = append(lv.near, at)
		}
	}
	lv.far.even()
}

// clip leaves out what lies off the lattice.
func (q *quartering) clip(t tile) tile {
	return tile{t.col, t.row, max(0, min(t.cols, q.lattice.Cols-t.col)), max(0, min(t.rows, q.lattice.Rows-t.row))}
}

// anyNode tells whether a tile has a node to fill.
func (q *quartering) anyNode(t tile) bool {
	t = q.clip(t)
	for i := range t.cols * t.rows {
		if q.set.Mask == nil || q.set.Mask(t.col+i%t.cols, t.row+i/t.cols) {
			return true
		}
	}
	return false
}

// leaf fills its nodes, row by row. All that is far is farther than clear.
func (q *quartering) leaf(here *level, square tile, clear float64) {
	q.closeBy.clear()
	for _, at := range here.near {
		q.closeBy.add(q.w.xs[at], q.w.ys[at], q.w.shared(1, at), q.w.values[at])
	}
	q.closeBy.even()
	t := q.clip(square)
	for row := t.row; row < t.row+t.rows; row++ {
		if q.row = q.nodes(tile{t.col, row, t.cols, 1}, q.row[:0]); len(q.row) > 0 {
			q.leafRow(here, t.col, &leafNodes[row-t.row], clear)
		}
	}
}

func (q *quartering) leafRow(here *level, col int, y *[farPoints]float64, clear float64) {
	values, weights := here.field.values.across(y), here.field.weights.across(y)
	q.dy2 = q.dy2[:0]
	for _, sy := range q.closeBy.ys {
		dy := sy - q.row[0].y
		q.dy2 = append(q.dy2, float64(dy*dy))
	}
	for _, n := range q.row {
		x := &leafNodes[n.at%q.lattice.Cols-col]
		s, d2 := q.closeBy.sums(n.x, q.dy2)
		s.values += along(&values, x)
		s.weights += along(&weights, x)
		q.value.Values[n.at] = q.w.ofSums(n.x, n.y, s)
		if q.distances != nil {
			q.distance.Values[n.at] = q.nearestOf(n, d2, clear)
		}
	}
}

// nearestOf is the distance to the nearest sample, if none is near to any.
func (q *quartering) nearestOf(n node, d2, clear float64) float64 {
	if d := math.Sqrt(d2); d < clear*(1-1e-9) {
		return d
	}
	return q.w.distance(n.x, n.y)
}

// sums adds an even number of samples up at a place by their squared distances in y, and
// tells the least squared distance; +Inf without any.
func (s *says) sums(x float64, dy2 []float64) (sum sums, nearest float64) {
	nearest = math.Inf(1)
	xs, weights, values := s.xs, s.weights, s.values
	for len(xs) >= 2 && len(dy2) >= 2 && len(weights) >= 2 && len(values) >= 2 {
		ax, bx := xs[0]-x, xs[1]-x
		a, b := float64(ax*ax)+dy2[0], float64(bx*bx)+dy2[1]
		if a < nearest {
			nearest = a
		}
		if b < nearest {
			nearest = b
		}
		r := 1 / float64(a*b)
		sum.values += float64((float64(values[0]*b) + float64(values[1]*a)) * r)
		sum.weights += float64((float64(weights[0]*b) + float64(weights[1]*a)) * r)
		xs, dy2, weights, values = xs[2:], dy2[2:], weights[2:], values[2:]
	}
	return sum, nearest
}
