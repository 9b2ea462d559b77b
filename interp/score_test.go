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

	flat := observed(4, 4, 4, 4, 4)
	best, _, err = interp.Tune(flat, interp.TuneCandidates(len(flat)))
	require.NoError(t, err)
	assert.Equal(t, interp.IDW{Power: 2, Neighbors: 12}, best, "the default wins a tie")
	_, _, err = interp.Tune(observed(1), interp.TuneCandidates(1))
	assert.ErrorContains(t, err, "nothing to tune by")
	assert.NotContains(t, interp.TuneCandidates(10000), interp.IDW{Power: 2, Neighbors: all}, "too dear")
}

func BenchmarkAllStops(b *testing.B) {
	benchmarkFill(b, 2000, interp.IDW{Neighbors: all}, interp.Lattice{Cell: 10, Cols: 100, Rows: 100})
}

func BenchmarkNearest12(b *testing.B) {
	benchmarkFill(b, 100_000, interp.IDW{}, interp.Lattice{Cell: 5, Cols: 200, Rows: 200})
}

func BenchmarkMorning(b *testing.B) {
	benchmarkFill(b, 60, interp.IDW{}, interp.Lattice{Cell: 5, Cols: 150, Rows: 150})
}

func benchmarkFill(b *testing.B, n int, s interp.IDW, l interp.Lattice) {
	rng := rand.New(rand.NewPCG(7, 8))
	p := fit(b, s, cloud(rng, n, func() (x, y float64) { return 1000 * rng.Float64(), 1000 * rng.Float64() }))
	b.ReportAllocs()
	for b.Loop() {
		if _, err := interp.Fill(b.Context(), p, l, interp.FillSettings{}); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(l.Len())*float64(b.N)/b.Elapsed().Seconds(), "nodes/s")
}
