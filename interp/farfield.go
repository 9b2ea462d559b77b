//go:build !small

package interp

// What samples far from a square of nodes add to the sums of inverse distance
// weighting is smooth over it: the square asks for it at few places and puts a
// polynomial through them, once for many nodes. That is the idea of the black-box
// fast multipole method (Fong & Darve 2009, J. Comput. Phys. 228: 8712–8725), of
// which only the half that serves the nodes pays here.
//
// Far is 3 half sides h or more from the centre, in x or in y. The polynomial of
// degree 16 in x and in y through 17 × 17 Chebyshev points is then within 1.2e-10 of
// 1/d², as a share of it. As a function of x that has poles at z and z̄, and the
// remainder of interpolation at the zeros of T₁₇ is T₁₇(x)·(u + (x−z)(u−ū)/(z−z̄)) of
// it with u = 1/T₁₇(z) (by partial fractions; for 1/(x−z) it is T₁₇(x)·u). A sample
// straight north has z at least 2h off the line, on the ellipse of ρ = 2 + √5 or
// beyond (Trefethen 2013, Approximation Theory and Approximation Practice, chapter 8),
// so |u| ≤ 2/ρ¹⁷, and the share is at most (1 + √5/2)·2/ρ¹⁷ = 9.3e-11. In y, z lies 3h
// north, so that ρ = 3 + √8 and the share is at most 5e-12; the polynomial in x makes
// of it 2.8 times as much, the Lebesgue constant, of a function that varies by 1.25.
// Samples toward the corners leave less of the first and at most 4e-11 in all.
//
// Both sums take a sample's weight with the same error, so a weighted mean is off by
// at most 1.2e-10 of the range of the values.
const (
	farPoints = 17
	farHalves = 3
)

// field holds both sums at the Chebyshev points of a square, row by row.
type field struct{ values, weights fieldSum }

type fieldSum [farPoints * farPoints]float64

// row is that of the Chebyshev points at one y.
func (f *fieldSum) row(j int) *[farPoints]float64 { return (*[farPoints]float64)(f[farPoints*j:]) }

// says are samples: their places, what they weigh, and their values as often.
type says struct{ xs, ys, weights, values []float64 }

func (s *says) clear() {
	s.xs, s.ys, s.weights, s.values = s.xs[:0], s.ys[:0], s.weights[:0], s.values[:0]
}

func (s *says) add(x, y, weight, value float64) {
	s.xs, s.ys = append(s.xs, x), append(s.ys, y)
	s.weights, s.values = append(s.weights, weight), append(s.values, float64(weight*value))
}

// even gives an odd one a partner that weighs nothing: samples are taken by twos, so
// that they share a division, as in [weighting.sums2].
func (s *says) even() {
	if len(s.xs)%2 == 1 {
		s.add(s.xs[0], s.ys[0], 0, 0)
	}
}

// add takes far samples, an even number of them, into the field of a square with this
// centre and half side.
func (f *field) add(s *says, x, y, half float64) {
	var px, py, a2, b2 [farPoints]float64
	for k, point := range chebyshevPoints {
		px[k], py[k] = x+float64(half*point), y+float64(half*point)
	}
	for i := 0; i+1 < len(s.xs); i += 2 {
		for k := range farPoints {
			a, b := s.xs[i]-px[k], s.xs[i+1]-px[k]
			a2[k], b2[k] = float64(a*a), float64(b*b)
		}
		two := twoSays{s.weights[i], s.weights[i+1], s.values[i], s.values[i+1]}
		for j := range farPoints {
			a, b := s.ys[i]-py[j], s.ys[i+1]-py[j]
			two.addTo(f.values.row(j), f.weights.row(j), &a2, &b2, float64(a*a), float64(b*b))
		}
	}
}

// twoSays is what two samples weigh, and their values as often.
type twoSays struct{ aWeight, bWeight, aValue, bValue float64 }

// addTo takes both into a row of a field by their squared distances in x and in y.
func (t twoSays) addTo(values, weights, ax2, bx2 *[farPoints]float64, ay2, by2 float64) {
	for k := range farPoints {
		a, b := ax2[k]+ay2, bx2[k]+by2
		r := 1 / float64(a*b)
		values[k] += float64((float64(t.aValue*b) + float64(t.bValue*a)) * r)
		weights[k] += float64((float64(t.aWeight*b) + float64(t.bWeight*a)) * r)
	}
}

// quarter makes this the same field at the Chebyshev points of a quarter of its square.
func (f *field) quarter(whole *field, inX, inY bases) {
	f.values.quarter(&whole.values, inX, inY)
	f.weights.quarter(&whole.weights, inX, inY)
}

func (f *fieldSum) quarter(whole *fieldSum, inX, inY bases) {
	for j := range farPoints {
		line := whole.across(&inY[j])
		for k := range farPoints {
			f[farPoints*j+k] = along(&line, &inX[k])
		}
	}
}

// across is a sum at one y, at the x of the Chebyshev points.
func (f *fieldSum) across(y *[farPoints]float64) (line [farPoints]float64) {
	for j, share := range y {
		for k, v := range f.row(j) {
			line[k] += float64(share * v)
		}
	}
	return line
}

// along is such a line at one x, in four sums that do not wait for one another.
func along(line, x *[farPoints]float64) float64 {
	var s0, s1, s2, s3 float64
	for k := 0; k+4 <= farPoints; k += 4 {
		s0 += float64(line[k] * x[k])
		s1 += float64(line[k+1] * x[k+1])
		s2 += float64(line[k+2] * x[k+2])
		s3 += float64(line[k+3] * x[k+3])
	}
	return s0 + s1 + (s2 + s3) + float64(line[farPoints-1]*x[farPoints-1])
}
