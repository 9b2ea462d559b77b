package sampling

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// Means and variances by the textbook, within five standard errors.
func TestDrawsHaveTheirMoments(t *testing.T) {
	const n = 40000
	d := newDraws(1)
	cases := []struct {
		name           string
		draw           func() float64
		mean, variance float64
	}{
		{"gamma 0.4", func() float64 { return d.gamma(.4) }, .4, .4},
		{"gamma 7", func() float64 { return d.gamma(7) }, 7, 7},
		{"poisson 3", func() float64 { return d.poisson(3) }, 3, 3},
		{"poisson 900", func() float64 { return d.poisson(900) }, 900, 900},
		{"binomial 10", func() float64 { return d.binomial(10, .2) }, 2, 1.6},
		{"binomial 800", func() float64 { return d.binomial(800, .3) }, 240, 168},
		{"beta", func() float64 { return d.beta(2, 6) }, .25, .25 * .75 / 9},
	}
	for _, tc := range cases {
		t.Run(tc.name, func(t *testing.T) {
			sum, squares := 0.0, 0.0
			for range n {
				x := tc.draw() - tc.mean
				sum += x
				squares += x * x
			}
			assert.InDelta(t, 0, sum/n, 5*math.Sqrt(tc.variance/n))
			assert.InEpsilon(t, tc.variance, squares/n, .08)
		})
	}
	assert.Zero(t, d.poisson(0))
}
