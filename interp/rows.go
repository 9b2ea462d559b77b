//go:build !small

package interp

import "math"

// wholeRows tells the settings that byRows serves.
func (w *weighting) wholeRows() bool {
	return w.Neighbors == AllNeighbors && w.weigh == 2 && math.IsInf(w.radius, 1) && w.shares == nil
}

// byRows weighs all samples by 1/d², to the last bit as Predict does. The nodes
// of a row share dy², and two at a time keep the processor busier than one.
func (f *filling) byRows(w *weighting) way {
	return way{f.lattice.Cols, 1, func() func(tile) {
		var nodes []node
		var dy2 []float64
		return func(t tile) {
			nodes, dy2 = f.nodes(t, nodes[:0]), dy2[:0]
			_, y := f.lattice.Node(0, t.row)
			for _, sy := range w.ys {
				dy := sy - y
				dy2 = append(dy2, float64(dy*dy))
			}
			f.predictRow(w, nodes, dy2)
		}
	}}
}

func (f *filling) predictRow(w *weighting, nodes []node, dy2 []float64) {
	for i := 0; i < len(nodes); i += 2 {
		n, m := nodes[i], nodes[min(i+1, len(nodes)-1)] // the last one of an odd number twice
		a, b := w.pairOfSums2(n.x, m.x, dy2)
		f.value.Values[n.at] = w.ofSums(n.x, n.y, a)
		f.value.Values[m.at] = w.ofSums(m.x, m.y, b)
	}
	if f.distances == nil {
		return
	}
	for _, n := range nodes {
		f.distance.Values[n.at] = w.distance(n.x, n.y)
	}
}

// sums are those that make a weighted mean.
type sums struct{ values, weights float64 }

// ofSums is the prediction that sums over all samples make.
func (w *weighting) ofSums(x, y float64, s sums) float64 {
	switch {
	case !reachable(x, y):
		return math.NaN()
	case normal(s.weights):
		return w.ratio(s.values, s.weights)
	}
	return w.allWithCare(x, y, none)
}

// pairOfSums2 is sums2 at two places of a row. The loop says all twice, since
// the compiler keeps these in registers and would not a slice of places.
func (w *weighting) pairOfSums2(x, x2 float64, dy2 []float64) (sums, sums) {
	var sum, weights, sum2, weights2 float64
	xs, values := w.xs, w.values
	for len(xs) >= 2 && len(dy2) >= 2 && len(values) >= 2 {
		ax, bx := xs[0]-x, xs[1]-x
		a, b := float64(ax*ax)+dy2[0], float64(bx*bx)+dy2[1]
		r := 1 / float64(a*b)
		sum += float64((float64(values[0]*b) + float64(values[1]*a)) * r)
		weights += float64((a + b) * r)

		cx, dx := xs[0]-x2, xs[1]-x2
		c, d := float64(cx*cx)+dy2[0], float64(dx*dx)+dy2[1]
		r2 := 1 / float64(c*d)
		sum2 += float64((float64(values[0]*d) + float64(values[1]*c)) * r2)
		weights2 += float64((c + d) * r2)

		xs, dy2, values = xs[2:], dy2[2:], values[2:]
	}
	if len(xs) == 1 && len(dy2) == 1 {
		ax, cx := xs[0]-x, xs[0]-x2
		r, r2 := 1/(float64(ax*ax)+dy2[0]), 1/(float64(cx*cx)+dy2[0])
		sum, weights = sum+float64(values[0]*r), weights+r
		sum2, weights2 = sum2+float64(values[0]*r2), weights2+r2
	}
	return sums{sum, weights}, sums{sum2, weights2}
}

// distance is that to the nearest sample.
func (w *weighting) distance(x, y float64) float64 {
	if !reachable(x, y) {
		return math.NaN()
	}
	var stack [1]found
	return math.Sqrt(w.nearest(x, y, none, stack[:0])[0].d2)
}
