package observer_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/scouting/observer"
)

// simulated pairs of an eye that sees count^power times bias, with noise on
// the log10 scale.
func simulated(r *rand.Rand, n int, power, bias float64) (pairs []observer.Pair) {
	for range n {
		counted := math.Pow(10, 0.5+2.5*r.Float64())
		pairs = append(pairs, observer.Pair{Observer: "A", Counted: counted, Estimated: bias * math.Pow(counted, power) * math.Pow(10, 0.12*r.NormFloat64())})
	}
	return pairs
}

func TestKnownBiasIsRecovered(t *testing.T) {
	const runs = 1000
	r := rand.New(rand.NewPCG(5, 5))
	bias, leaf := 0, 0
	for range runs {
		c := observer.Calibrate(simulated(r, 25, 1, 0.7))[0]
		if c.Ratio.Low <= 0.7 && 0.7 <= c.Ratio.High {
			bias++
		}
		next := simulated(r, 1, 1, 0.7)[0]
		if p := c.Fit.Correct(next.Estimated); p.Low <= next.Counted && next.Counted <= p.High {
			leaf++
		}
	}
	t.Logf("bias within its interval in %d of %d runs, the next leaf within its own in %d", bias, runs, leaf)
	assert.GreaterOrEqual(t, bias, runs*93/100)
	assert.GreaterOrEqual(t, leaf, runs*93/100)
	assert.Less(t, bias, runs*98/100, "an interval that always holds says nothing")
	assert.Less(t, leaf, runs*98/100)
}

// The mean of many corrected leaves is the mean of the true ones: what the
// smearing factor is for.
func TestCorrectionKeepsTheMean(t *testing.T) {
	r := rand.New(rand.NewPCG(6, 6))
	fit := observer.Calibrate(simulated(r, 4000, 0.9, 0.8))[0].Fit
	require.NotNil(t, fit)
	raw, corrected, truth := 0.0, 0.0, 0.0
	for _, p := range simulated(r, 20000, 0.9, 0.8) {
		c := fit.Correct(p.Estimated)
		raw, corrected, truth = raw+p.Estimated, corrected+c.Count, truth+p.Counted
	}
	assert.InEpsilon(t, 1, corrected/truth, 0.05) // a line is not quite right at the ends of what was practised
	assert.Less(t, raw/truth, 0.65)
}

func TestCalibrate(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 1))
	pairs := simulated(r, 12, 1, 1)
	for i := range pairs {
		pairs[i].Observer = []string{"Scout  A", "scout a"}[i%2]
	}
	pairs = append(pairs, observer.Pair{"B", 10, 12}, observer.Pair{"B", 0, 0}, observer.Pair{"B", 20, 30})
	for range 12 {
		pairs = append(pairs, observer.Pair{"C", 100, 100 + 20*r.Float64()})
	}
	got := observer.Calibrate(pairs)
	require.Len(t, got, 3)
	assert.Equal(t, 12, got[0].Pairs)
	assert.NotNil(t, got[0].Fit)
	assert.Nil(t, got[1].Fit)
	assert.Equal(t, 1, got[1].Zeros)
	assert.Contains(t, got[1].Why, "10 pairs without a zero are needed, found 2")
	assert.InEpsilon(t, math.Sqrt(10.0/12*20/30), got[1].Ratio.Value, 1e-12)
	assert.Nil(t, got[2].Fit)
	assert.Contains(t, got[2].Why, "too much alike")
	assert.Empty(t, observer.Calibrate(nil))
}

func TestCorrect(t *testing.T) {
	fit := observer.Calibrate(simulated(rand.New(rand.NewPCG(2, 2)), 30, 1, 0.5))[0].Fit
	require.NotNil(t, fit)
	assert.Zero(t, fit.Correct(0))
	within, far := fit.Correct(50), fit.Correct(1e6)
	assert.False(t, within.Outside)
	assert.True(t, far.Outside)
	assert.Greater(t, far.LineCV, within.LineCV)
	assert.Less(t, within.LineCV, within.CV)
	assert.Less(t, within.Low, within.Count)
	assert.Greater(t, within.High, within.Count)
}

func TestPairValidate(t *testing.T) {
	assert.NoError(t, observer.Pair{"A", 0, 3}.Validate())
	for _, p := range []observer.Pair{{"A", -1, 1}, {"A", 1, math.NaN()}, {"A", math.Inf(1), 1}} {
		assert.Error(t, p.Validate())
	}
}
