package interp

import "math"

// block is a square of ground whose mean is predicted. Means over it are taken at
// four by four places by Gauss's rule, as gstat does, which is exact for
// polynomials up to degree 7 in each direction.
type block struct {
	model  VariogramModel // without the nugget
	dx, dy [16]float64    // places, metres from the middle
	weight [16]float64    // they sum to 1
	within float64        // variance of the mean: the covariance averaged over pairs of places
}

// newBlock is nil for a side of 0. The nugget has no extent, so over a block it
// averages out (Chilès & Delfiner 2012, Geostatistics, 2nd ed., ch. 3).
func newBlock(m VariogramModel, side float64) *block {
	if side == 0 {
		return nil
	}
	m.Nugget = 0
	b := &block{model: m}
	at, weight := gaussRule()
	for i := range b.weight {
		col, row := i%len(at), i/len(at)
		b.dx[i], b.dy[i] = at[col]*side/2, at[row]*side/2
		b.weight[i] = weight[col] * weight[row]
	}
	for i, w := range b.weight {
		b.within += float64(w * b.covariance(b.dx[i], b.dy[i]))
	}
	return b
}

// gaussRule has the places in −1 … 1 and the weights, summing to 1, of the
// four-point Gauss–Legendre rule (Abramowitz & Stegun 1964, 25.4.30).
func gaussRule() (at, weight [4]float64) {
	spread := 2.0 / 7 * math.Sqrt(6.0/5)
	inner, outer := math.Sqrt(3.0/7-spread), math.Sqrt(3.0/7+spread)
	heavy, light := (18+math.Sqrt(30))/72, (18-math.Sqrt(30))/72
	return [4]float64{-outer, -inner, inner, outer}, [4]float64{light, heavy, heavy, light}
}

// covariance is that of the block's mean and the value at a place, metres from
// the block's middle.
func (b *block) covariance(x, y float64) (sum float64) {
	for i, w := range b.weight {
		dx, dy := x-b.dx[i], y-b.dy[i]
		sum += float64(w * b.model.Covariance(math.Sqrt(float64(dx*dx)+float64(dy*dy))))
	}
	return sum
}
