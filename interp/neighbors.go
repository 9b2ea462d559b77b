package interp

import "math"

// perCell is how many samples a search cell holds on average.
const perCell = 2

// neighbors finds the samples nearest to a place. Samples stand in the cells of
// a uniform grid, row by row, so that a search looks at a few cells around the
// place, ring by ring, until no nearer one can be left.
type neighbors struct {
	xs, ys     []float64 // in the order of the cells
	id         []int32   // the sample's number in the caller's order
	start      []int32   // of each cell in xs, ys, id; one more at the end
	x0, y0     float64
	cell       float64
	cols, rows int
}

// found is a sample near a place.
type found struct {
	d2 float64 // squared distance in m²
	id int32
	at int32 // position in the order of the cells
}

func (a found) before(b found) bool { return a.d2 < b.d2 || a.d2 == b.d2 && a.id < b.id }

func newNeighbors(samples []Sample) *neighbors {
	n := &neighbors{}
	n.layOut(samples)
	cells := make([]int32, len(samples))
	n.start = make([]int32, n.cols*n.rows+1)
	for i, s := range samples {
		cells[i] = int32(n.cellOf(s.X, s.Y))
		n.start[cells[i]+1]++
	}
	for c := range n.cols * n.rows {
		n.start[c+1] += n.start[c]
	}
	next := append([]int32(nil), n.start...)
	n.xs, n.ys, n.id = make([]float64, len(samples)), make([]float64, len(samples)), make([]int32, len(samples))
	for i, s := range samples {
		at := next[cells[i]]
		next[cells[i]]++
		n.xs[at], n.ys[at], n.id[at] = s.X, s.Y, int32(i)
	}
	return n
}

// layOut chooses the cells for the samples' bounding box: square ones, about
// perCell samples in each, never many more cells than samples.
func (n *neighbors) layOut(samples []Sample) {
	x1, y1 := math.Inf(-1), math.Inf(-1)
	n.x0, n.y0 = math.Inf(1), math.Inf(1)
	for _, s := range samples {
		n.x0, n.y0 = min(n.x0, s.X), min(n.y0, s.Y)
		x1, y1 = max(x1, s.X), max(y1, s.Y)
	}
	w, h := x1-n.x0, y1-n.y0
	want := max(1, float64(len(samples))/perCell)
	n.cell = max(math.Sqrt(w/want)*math.Sqrt(h), max(w, h)/want)
	if n.cell == 0 {
		n.cell = 1
	}
	n.cols, n.rows = int(w/n.cell)+1, int(h/n.cell)+1
}

func (n *neighbors) cellOf(x, y float64) int {
	return n.row(y)*n.cols + n.col(x)
}

func (n *neighbors) col(x float64) int { return clamp((x-n.x0)/n.cell, n.cols) }
func (n *neighbors) row(y float64) int { return clamp((y-n.y0)/n.cell, n.rows) }

func clamp(v float64, count int) int {
	if !(v > 0) {
		return 0
	}
	return int(min(v, float64(count-1)))
}

// nearest fills dst, up to its capacity, with the samples nearest to a place,
// nearest first and by number where they are as far; the sample numbered skip
// is passed over (−1 skips none).
func (n *neighbors) nearest(x, y float64, skip int32, dst []found) []found {
	k := cap(dst)
	dst = dst[:0]
	col, row := n.col(x), n.row(y)
	for ring := 0; ; ring++ {
		dst = n.searchRing(x, y, skip, square{col - ring, col + ring, row - ring, row + ring}, dst)
		clearance := n.clearance(x, y, square{col - ring, col + ring, row - ring, row + ring})
		if math.IsInf(clearance, 1) || len(dst) == k && clearance*clearance > dst[k-1].d2 {
			return dst
		}
	}
}

// square is a block of cells, ends included.
type square struct{ col0, col1, row0, row1 int }

// searchRing looks through the cells on the rim of a square.
func (n *neighbors) searchRing(x, y float64, skip int32, s square, dst []found) []found {
	for row := max(0, s.row0); row <= min(n.rows-1, s.row1); row++ {
		if row == s.row0 || row == s.row1 {
			dst = n.searchCells(x, y, skip, n.span(row, s.col0, s.col1), dst)
			continue
		}
		if s.col0 >= 0 {
			dst = n.searchCells(x, y, skip, n.span(row, s.col0, s.col0), dst)
		}
		if s.col1 < n.cols {
			dst = n.searchCells(x, y, skip, n.span(row, s.col1, s.col1), dst)
		}
	}
	return dst
}

// span is the run of samples in neighbouring cells of a row.
func (n *neighbors) span(row, col0, col1 int) [2]int32 {
	return [2]int32{n.start[row*n.cols+max(0, col0)], n.start[row*n.cols+min(n.cols-1, col1)+1]}
}

func (n *neighbors) searchCells(x, y float64, skip int32, run [2]int32, dst []found) []found {
	k := cap(dst)
	for at := run[0]; at < run[1]; at++ {
		dx, dy := n.xs[at]-x, n.ys[at]-y
		f := found{d2: float64(dx*dx) + float64(dy*dy), id: n.id[at], at: at}
		if len(dst) == k && !f.before(dst[k-1]) || f.id == skip {
			continue
		}
		if len(dst) < k {
			dst = append(dst, f)
		}
		dst[len(dst)-1] = f
		settle(dst)
	}
	return dst
}

// settle moves the last one of a list by distance, else in order, to its place.
func settle(near []found) {
	i := len(near) - 1
	f := near[i]
	for ; i > 0 && f.before(near[i-1]); i-- {
		near[i] = near[i-1]
	}
	near[i] = f
}

// clearance is the distance from a place within which every sample lies in the
// square; +Inf where the square holds all cells. Rounding may have put a sample
// into the cell next to its own, and a place far off knows its distance to the
// cells to so many digits only, so the sides are drawn in by a little of both.
func (n *neighbors) clearance(x, y float64, s square) float64 {
	clearance := math.Inf(1)
	u, v := x-n.x0, y-n.y0 // small numbers, wherever the samples are
	if s.col0 > 0 {
		clearance = min(clearance, u-float64(s.col0)*n.cell)
	}
	if s.row0 > 0 {
		clearance = min(clearance, v-float64(s.row0)*n.cell)
	}
	if s.col1 < n.cols-1 {
		clearance = min(clearance, float64(s.col1+1)*n.cell-u)
	}
	if s.row1 < n.rows-1 {
		clearance = min(clearance, float64(s.row1+1)*n.cell-v)
	}
	return max(0, clearance*(1-1e-12)-1e-9*n.cell)
}
