package interp_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/interp"
)

func leftOut(values ...float64) (out []interp.LeftOut) {
	for _, v := range values {
		out = append(out, interp.LeftOut{Value: v})
	}
	return out
}

func observed(values ...float64) (out []interp.Sample) {
	for i, v := range values {
		out = append(out, interp.Sample{X: float64(i), Value: v})
	}
	return out
}

// Worked by hand. The means of the others of 0, 3, 6 are 4.5, 3, 1.5, whose
// squared errors add up to 40.5.
func TestScoreByHand(t *testing.T) {
	nan := math.NaN()
	s := interp.NewScore(observed(0, 3, 6), leftOut(1, 3, 4))
	assert.Equal(t, 3, s.N)
	assert.InDelta(t, 1.0/3, s.MeanError, 1e-15)
	assert.InDelta(t, 1, s.MAE, 1e-15)
	assert.InDelta(t, math.Sqrt(5.0/3), s.RMSE, 1e-15)
	assert.InDelta(t, 1-5/40.5, s.Skill, 1e-15)

	assert.InDelta(t, 0, interp.NewScore(observed(0, 3, 6), leftOut(4.5, 3, 1.5)).Skill, 1e-15, "the mean of the others has no skill")
	assert.InDelta(t, 1, interp.NewScore(observed(0, 3, 6), leftOut(0, 3, 6)).Skill, 1e-15)
	assert.Less(t, interp.NewScore(observed(0, 3, 6), leftOut(9, 9, 0)).Skill, 0.0)
	assert.Zero(t, interp.NewScore(observed(5, 5), leftOut(5, 5)).Skill, "no variation, no skill")

	tenth := interp.NewScore(observed(.1, .1, .1, .1, .1, .1), leftOut(.1, .1, .1+2e-17, .1-2e-17, .1, .1))
	assert.Zero(t, tenth.Skill, "a tenth is no tenth in binary, and still no variation")
	assert.True(t, math.IsNaN(tenth.Correlation))
	assert.Zero(t, interp.NewScore(observed(0, 1e-200), leftOut(0, 0)).Skill, "squares too small for a float")

	partly := interp.NewScore(observed(0, 99, 3, 6), leftOut(1, nan, 3, 4))
	assert.Equal(t, s, partly, "samples without prediction are passed over")
	empty := interp.NewScore(observed(1), leftOut(nan))
	assert.Zero(t, empty.N)
	assert.True(t, math.IsNaN(empty.RMSE) && math.IsNaN(empty.Skill))
}

func TestTunePicksTheLeastError(t *testing.T) {
	samples := meuse(t)
	candidates := interp.TuneCandidates(len(samples))
	assert.Equal(t, interp.IDW{Power: 2, Neighbors: 12}, candidates[0])
	best, score, err := interp.Tune(samples, candidates)
	require.NoError(t, err)
	for _, c := range candidates {
		left, err := c.LeaveOneOut(samples)
		require.NoError(t, err)
		assert.GreaterOrEqual(t, interp.NewScore(samples, left).RMSE, score.RMSE, "%+v", c)
	}
	left, err := best.LeaveOneOut(samples)
	require.NoError(t, err)
	assert.Equal(t, score, interp.NewScore(samples, left))

	for _, flat := range [][]interp.Sample{observed(4, 4, 4, 4, 4), observed(.1, .1, .1, .1, .1, .1, .1, .1, .1)} {
		best, _, err = interp.Tune(flat, interp.TuneCandidates(len(flat)))
		require.NoError(t, err)
		assert.Equal(t, interp.IDW{Power: 2, Neighbors: 12}, best, "the default wins a tie")
	}
	_, _, err = interp.Tune(observed(1), interp.TuneCandidates(1))
	assert.ErrorContains(t, err, "nothing to tune by")
	assert.NotContains(t, interp.TuneCandidates(10000), interp.IDW{Power: 2, Neighbors: all}, "too dear")
}

// More neighbours than there are samples, and all of them, are one thing summed
// in two orders.
func TestTuneSeesTiesThroughRounding(t *testing.T) {
	rng := rand.New(rand.NewPCG(9, 10))
	for range 20 {
		samples := cloud(rng, 20, func() (x, y float64) { return rng.Float64(), rng.Float64() })
		many, every := interp.IDW{Neighbors: 50}, interp.IDW{Neighbors: all}
		for _, candidates := range [][]interp.IDW{{many, every}, {every, many}} {
			best, _, err := interp.Tune(samples, candidates)
			require.NoError(t, err)
			assert.Equal(t, candidates[0], best)
		}
	}
}
