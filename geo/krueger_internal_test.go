package geo

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// The coefficients are the Fourier sine coefficients that take the conformal
// latitude of WGS 84 to the rectifying latitude, and (negated) back. The values
// here were worked out for this test from those two latitudes' definitions
// (Snyder 1987, USGS Professional Paper 1395, equations 3-1 and 3-20), by
// numerical integration with mpmath 1.3.0 at 40 digits, with no series in n.
// What a series to n⁶ leaves out begins with n⁷, times 2.96 at the most for alpha
// and 0.19 for beta (Karney 2011, equations 35 and 36, from memory); beyond that only rounding is allowed.
func TestKruegerCoefficients(t *testing.T) {
	want := [6]struct{ alpha, beta float64 }{
		{0.00083773182062446983, 0.000837732164057948677},
		{7.60852777357248916e-7, 5.90587015222036518e-8},
		{1.1976455032424921e-9, 1.67348266534382493e-10},
		{2.42917068039731315e-12, 2.16479811049038618e-13},
		{5.71181836915410528e-15, 3.78793096883960113e-16},
		{1.47999802705262084e-17, 7.23676928796575792e-19},
	}
	const alphaLeftOut, betaLeftOut = 3 * n6 * n1, 0.2 * n6 * n1
	for j, w := range want {
		assert.InDelta(t, w.alpha, alpha()[j], alphaLeftOut+math.Abs(w.alpha)*2e-16, "alpha %d", j+1)
		assert.InDelta(t, w.beta, beta()[j], betaLeftOut+math.Abs(w.beta)*2e-16, "beta %d", j+1)
	}
}
