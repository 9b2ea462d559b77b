package interp

import "math"

// LeaveOneOut predicts each sample from those that lie elsewhere, in the order
// of the samples, with the variance of the error of a value measured there; the
// model stays as it is. Samples that share a place are left out together. Errors
// are those of [OrdinaryKriging.Fit]. A sample without any other has the value
// and variance NaN.
func (s OrdinaryKriging) LeaveOneOut(samples []Sample) (left []LeftOut, variances []float64, err error) {
	if err := s.Validate(); err != nil {
		return nil, nil, err
	}
	s.Block = 0
	k, err := s.fit(samples)
	if err != nil {
		return nil, nil, err
	}
	pooled, at := pool(samples)
	values, each := k.eachWithout()
	place := make([]int, len(pooled)) // in the order of the cells
	for i, id := range k.id {
		place[id] = i
	}
	left, variances = make([]LeftOut, len(samples)), make([]float64, len(samples))
	for i, p := range at {
		cell := place[p]
		left[i] = LeftOut{Value: values[cell], Distance: k.nearestOther(int32(p), pooled[p])}
		variances[i] = each[cell]
	}
	return left, variances, nil
}

// eachWithout is what the others say of each sample, in the order of the cells.
func (k *kriging) eachWithout() (values, variances []float64) {
	n := len(k.xs)
	if n == 1 {
		return []float64{math.NaN()}, []float64{math.NaN()}
	}
	if k.whole != nil {
		return k.whole.leaveOneOut()
	}
	values, variances = make([]float64, n), make([]float64, n)
	for i, x := range k.xs {
		values[i], variances[i] = k.without(x, k.ys[i], k.id[i])
	}
	return values, variances
}

// nearestOther is the distance in metres from a pooled sample to the nearest
// other, +Inf without any.
func (n *neighbors) nearestOther(id int32, s Sample) float64 {
	var stack [1]found
	near := n.nearest(s.X, s.Y, id, stack[:0])
	if len(near) == 0 {
		return math.Inf(1)
	}
	return math.Sqrt(near[0].d2)
}
