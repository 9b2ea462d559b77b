package plan

import (
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/interp"
)

// What is thought of the ground has the covariance that was fitted: (1 + h/a)
// exp(−h/a) of the variance at h metres, worked out by hand for h of 0, a and 2a.
func TestCovarianceIsThatOfTheFit(t *testing.T) {
	b := belief{process: interp.ChanceParameters{Variance: 2.5, Range: 40}}
	for ranges, want := range map[float64]float64{0: 1, 1: 0.735758882342885, 2: 0.406005849709838} {
		assert.InDelta(t, 2.5*want, b.prior(orb.Point{10, 5}, orb.Point{10 + 24*ranges, 5 + 32*ranges}), 1e-12, "at %v ranges", ranges)
	}
}
