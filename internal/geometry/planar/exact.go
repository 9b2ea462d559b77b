package planar

import (
	"cmp"
	"math"

	"github.com/paulmach/orb"
)

// compareProducts is the sign of a·b − c·d, exact while no product leaves the
// range of a float64: rounding keeps the order of products that it leaves apart,
// and what it took from equal ones is a float64 itself.
func compareProducts(a, b, c, d float64) int {
	p, q := float64(a*b), float64(c*d)
	if p != q {
		return cmp.Compare(p, q)
	}
	return cmp.Compare(math.FMA(a, b, -p), math.FMA(c, d, -q))
}

// side is 1 where p lies to the left of the way from a to b, −1 to the right, 0 in
// line with them; exact where differences of coordinates are.
func side(a, b, p orb.Point) int {
	return compareProducts(b[0]-a[0], p[1]-a[1], b[1]-a[1], p[0]-a[0])
}
