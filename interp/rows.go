package interp

import "math"

// row is the work of filling one row of a lattice: its nodes on the mask.
type row struct {
	y         float64
	xs        []float64 // of the nodes
	values    []float64 // to fill, as many
	distances []float64 // to fill, as many; nil where nobody asks
	scratch   []float64 // kept from row to row
}

// predict fills the row, node by node but where the predictor is quicker with
// whole rows.
func (r *row) predict(p Predictor) {
	w, ok := p.(*weighting)
	if ok && w.wholeRows() {
		w.predictRow(r)
		return
	}
	if r.distances != nil {
		p := p.(DistancePredictor) // FillWithDistance takes no other
		for i, x := range r.xs {
			r.values[i], r.distances[i] = p.PredictWithDistance(x, r.y)
		}
		return
	}
	for i, x := range r.xs {
		r.values[i] = p.Predict(x, r.y)
	}
}

// wholeRows tells the settings that predictRow serves.
func (w *weighting) wholeRows() bool {
	return w.Neighbors == AllNeighbors && w.weigh == 2 && math.IsInf(w.radius, 1) && w.shares == nil
}

// predictRow weighs all samples by 1/d², to the last bit as Predict does. The
// nodes of a row share dy², and two at a time keep the processor busier than one.
func (w *weighting) predictRow(r *row) {
	r.scratch = r.scratch[:0]
	for _, sy := range w.ys {
		dy := sy - r.y
		r.scratch = append(r.scratch, float64(dy*dy))
	}
	for i := 0; i < len(r.xs); i += 2 {
		j := min(i+1, len(r.xs)-1) // the last one of an odd number twice
		a, b := w.pairOfSums2(r.xs[i], r.xs[j], r.scratch)
		r.values[i] = w.ofSums(r.xs[i], r.y, a)
		r.values[j] = w.ofSums(r.xs[j], r.y, b)
	}
	if r.distances == nil {
		return
	}
	for i, x := range r.xs {
		r.distances[i] = w.distance(x, r.y)
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
