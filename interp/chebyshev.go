//go:build !small

package interp

import "math"

// chebyshevPoints are the zeros of the Chebyshev polynomial T₁₇, cos((2k + 1)π/34)
// for k = 0 … 16; chebyshevWeights are those of the barycentric formula for them,
// (−1)ᵏ sin((2k + 1)π/34).
var chebyshevPoints, chebyshevWeights = func() (points, weights [farPoints]float64) {
	sign := 1.0
	for k := range points {
		sin, cos := math.Sincos(float64(2*k+1) * math.Pi / (2 * farPoints))
		points[k], weights[k] = cos, sign*sin
		sign = -sign
	}
	return points, weights
}()

// basis is what the value at each Chebyshev point counts for at a place from −1 to 1
// in the polynomial of degree 16 through them: lₖ(x) = (wₖ/(x − xₖ)) / Σⱼ wⱼ/(x − xⱼ)
// (Berrut & Trefethen 2004, SIAM Review 46: 501–517, equations 4.2 and 5.3).
func basis(x float64) (l [farPoints]float64) {
	var sum float64
	for k, point := range chebyshevPoints {
		if x == point {
			l = [farPoints]float64{}
			l[k] = 1
			return l
		}
		l[k] = chebyshevWeights[k] / (x - point)
		sum += l[k]
	}
	for k := range l {
		l[k] /= sum
	}
	return l
}

// bases of places that lie alike in every square: the Chebyshev points of its western
// and eastern, southern and northern half, and the nodes of a leaf.
type bases [][farPoints]float64

var (
	lower     = basesAt(farPoints, func(k int) float64 { return (chebyshevPoints[k] - 1) / 2 })
	upper     = basesAt(farPoints, func(k int) float64 { return (chebyshevPoints[k] + 1) / 2 })
	leafNodes = basesAt(leafSide, func(i int) float64 { return float64(2*i+1)/leafSide - 1 })
)

func basesAt(n int, place func(i int) float64) bases {
	b := make(bases, n)
	for i := range b {
		b[i] = basis(place(i))
	}
	return b
}
