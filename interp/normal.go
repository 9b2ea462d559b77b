package interp

import (
	"math"
	"sync"
)

// The table of a normal's tail: how many places a standard deviation has in it, how many
// standard deviations it covers, and how many terms its polynomials have.
const (
	normalPace  = 64
	normalReach = 8
	normalTerms = 9
)

// tails are, place by place, the Taylor polynomials of Φ(−z).
type tails [normalPace*normalReach + 1][normalTerms]float64

// normalTails is the table, which is made when it is asked for first. The derivatives of
// Φ(−z) are −φ(z) and, from there on, f⁽ᵏ⁺²⁾ = −z f⁽ᵏ⁺¹⁾ − k f⁽ᵏ⁾ (Hermite's polynomials).
var normalTails = sync.OnceValue(func() *tails {
	var all tails
	for i := range all {
		z := float64(i) / normalPace
		f, next := -math.Exp(-z*z/2)/math.Sqrt(2*math.Pi), 0.0 // the first and, below, the second
		all[i][0] = 0.5 * math.Erfc(z/math.Sqrt2)
		next = -z * f
		factorial := 1.0
		for k := 1; k < normalTerms; k++ {
			factorial *= float64(k)
			all[i][k] = f / factorial
			f, next = next, -float64(z*next)-float64(float64(k)*f)
		}
	}
	return &all
})

// beyond is Φ(−z) for z of 0 or more, to some 1e-15 of itself, in a sixth of the time of
// math.Erfc: of what is left to the nearest place in the table, at most 1/128, the next term
// is below (8/128)⁹/9! = 4e-17 of it. NaN stays.
func (t *tails) beyond(z float64) float64 {
	if !(z < normalReach) {
		return 0.5 * math.Erfc(z/math.Sqrt2)
	}
	k := int(z*normalPace + 0.5)
	h := z - float64(k)*(1.0/normalPace)
	c := &t[k]
	h2 := h * h
	h4 := h2 * h2
	low := c[0] + float64(h*c[1]) + float64(h2*(c[2]+float64(h*c[3])))
	high := c[4] + float64(h*c[5]) + float64(h2*(c[6]+float64(h*c[7]))) + float64(h4*c[8])
	return low + float64(h4*high)
}

// bothSides are the chances of a standard normal below a number and beyond it: the lesser
// one to all its digits, the other what it leaves of 1.
func (t *tails) bothSides(z float64) (below, beyond float64) {
	lesser := t.beyond(math.Abs(z))
	if z < 0 {
		return lesser, 1 - lesser
	}
	return 1 - lesser, lesser
}
