package sampling_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/geocoris/geocoris/internal/scouting/sampling"
	"github.com/geocoris/geocoris/internal/testkit"
)

func share(low, high float64) sampling.Wald { return sampling.Wald{Low: low, High: high} }

func TestTally(t *testing.T) {
	green := sampling.Green{Taylor: sampling.Taylor{A: 2.586, B: 1.511}}
	type counts = []sampling.Count
	times := func(n int, c ...sampling.Count) (all counts) {
		for i := range n {
			all = append(all, c[i%len(c)])
		}
		return all
	}
	between := append(times(14, sampling.Count{2, 10}), sampling.Count{1, 10})
	few := times(15, sampling.Count{10, 10}, sampling.Count{}, sampling.Count{}, sampling.Count{}, sampling.Count{})
	for i := range few {
		few[i].Units = 10
	}
	plain := sampling.Settings{Independent: true}
	cases := []struct {
		name    string
		rule    sampling.Rule
		set     sampling.Settings
		counts  counts
		verdict sampling.Verdict
	}{
		{"nothing yet", share(.1, .3), sampling.Settings{}, nil, sampling.GoOn},
		{"three full stops are no field", share(.1, .3), plain, times(3, sampling.Count{10, 10}), sampling.GoOn},
		{"nor with fewer asked for", share(.1, .3), sampling.Settings{Least: 1, Independent: true}, times(1, sampling.Count{10, 10}), sampling.GoOn},
		{"four are by the plan as published", share(.1, .3), plain, times(4, sampling.Count{10, 10}), sampling.Over},
		{"fourteen full stops are no field", share(.1, .3), sampling.Settings{Least: 4}, times(14, sampling.Count{10, 10}), sampling.GoOn},
		{"fifteen are", share(.1, .3), sampling.Settings{}, times(15, sampling.Count{10, 10}), sampling.Over},
		{"fourteen empty ones", share(.1, .3), sampling.Settings{}, times(14, sampling.Count{0, 10}), sampling.GoOn},
		{"fifteen empty ones", share(.1, .3), sampling.Settings{}, times(15, sampling.Count{0, 10}), sampling.Under},
		{"empty stops count as one leaf each", share(.1, .22), sampling.Settings{}, times(15, sampling.Count{0, 10}), sampling.GoOn}, // 15·0.1536 < 2.36
		{"one more", share(.1, .22), sampling.Settings{}, times(16, sampling.Count{0, 10}), sampling.Under},
		{"more asked for", share(.1, .3), sampling.Settings{Least: 16}, times(15, sampling.Count{0, 10}), sampling.GoOn},
		{"between the lines", share(.1, .3), sampling.Settings{}, between, sampling.GoOn},
		{"between them for ever", share(.1, .3), sampling.Settings{Most: 15}, between, sampling.Undecided},
		{"all in few stops is no evidence", share(.1, .3), sampling.Settings{}, few, sampling.GoOn},
		{"though it would be for independent leaves", share(.1, .3), plain, few, sampling.Over},
		{"precision not reached", green, sampling.Settings{}, times(15, sampling.Count{1, 1}, sampling.Count{0, 1}), sampling.GoOn},
		{"precision reached", green, sampling.Settings{}, times(15, sampling.Count{100, 5}, sampling.Count{90, 5}), sampling.Enough},
		{"precision of uneven stops", green, sampling.Settings{}, times(15, sampling.Count{0, 5}, sampling.Count{0, 5}, sampling.Count{0, 5}, sampling.Count{0, 5}, sampling.Count{900, 5}), sampling.GoOn},
	}
	for _, tc := range cases {
		t.Run(tc.name, func(t *testing.T) {
			tally, err := sampling.NewTally(tc.rule, tc.set)
			require.NoError(t, err)
			for _, c := range tc.counts {
				_, err := tally.Add(c)
				require.NoError(t, err)
			}
			assert.Equal(t, tc.verdict, tally.Answer().Verdict, "%+v", tally.Answer())
		})
	}
}

// Four stops of 10 leaves with shares .1, .1, .1, .9, by hand: m = 0.3, squares
// 4+4+4+36 = 48, 4/3·48 = 64 against 40·0.21 = 8.4.
func TestDesignEffectByHand(t *testing.T) {
	tally, err := sampling.NewTally(share(.1, .3), sampling.Settings{})
	require.NoError(t, err)
	for _, total := range []float64{1, 1, 1, 9} {
		_, err := tally.Add(sampling.Count{Total: total, Units: 10})
		require.NoError(t, err)
	}
	assert.InDelta(t, 64/8.4, tally.Answer().DesignEffect, 1e-12)
}

func TestJoinAndCopy(t *testing.T) {
	tally, err := sampling.NewTally(share(.1, .3), sampling.Settings{})
	require.NoError(t, err)
	_, err = tally.Join(0, sampling.Count{Total: 1, Units: 4})
	require.ErrorContains(t, err, "no stop 1 yet")
	_, err = tally.Add(sampling.Count{Total: 1, Units: 4})
	require.NoError(t, err)
	a, err := tally.Join(0, sampling.Count{Total: 2, Units: 6})
	require.NoError(t, err)
	assert.Equal(t, 1, a.Stops)
	assert.Equal(t, 3.0, a.Total)
	before := tally.Copy()
	_, err = tally.Join(0, sampling.Count{Total: 5, Units: 10})
	require.NoError(t, err)
	assert.Equal(t, a.Total, before.Answer().Total, "a copy stays as it was")
	assert.Equal(t, 8.0, tally.Answer().Total)
}

func TestRefusals(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	for name, rule := range map[string]sampling.Rule{
		"equal":         share(.1, .1),
		"reversed":      share(.3, .1),
		"share of 1":    share(.3, 1),
		"not a number":  share(nan, .1),
		"no k":          sampling.Wald{Distribution: sampling.NegativeBinomial, Low: 1, High: 2},
		"infinite":      sampling.Wald{Distribution: sampling.Poisson, Low: 1, High: inf},
		"errors of 1":   sampling.Wald{Low: .1, High: .2, Alpha: .5, Beta: .5},
		"taylor b of 2": sampling.Green{Taylor: sampling.Taylor{A: 1, B: 2}},
		"no a":          sampling.Green{Taylor: sampling.Taylor{B: 1.5}},
		"precision 2":   sampling.Green{Taylor: sampling.Taylor{A: 1, B: 1.5}, D: 2},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := sampling.NewTally(rule, sampling.Settings{})
			assert.Error(t, err)
		})
	}
	tally, err := sampling.NewTally(share(.1, .3), sampling.Settings{})
	require.NoError(t, err)
	for _, c := range []sampling.Count{{1, 0}, {1, -1}, {-1, 1}, {nan, 1}, {1, nan}, {inf, inf}, {2, 1}} {
		_, err := tally.Add(c)
		assert.Error(t, err, "%v", c)
		_, err = tally.Join(0, c)
		assert.Error(t, err, "%v", c)
	}
	assert.Zero(t, tally.Answer().Stops)
}

// The line is where the log likelihood ratio meets Wald's bounds, whatever the
// distribution.
func TestLinesAreWhereTheLikelihoodsSaySo(t *testing.T) {
	testkit.Property(t, func(t *rapid.T) {
		w := sampling.Wald{
			Distribution: sampling.Distribution(rapid.IntRange(0, 2).Draw(t, "distribution")),
			Low:          rapid.Float64Range(.01, .4).Draw(t, "low"),
			K:            rapid.Float64Range(.1, 20).Draw(t, "k"),
			Alpha:        rapid.Float64Range(.01, .4).Draw(t, "alpha"),
			Beta:         rapid.Float64Range(.01, .4).Draw(t, "beta"),
		}
		w.High = w.Low + rapid.Float64Range(.05, .5).Draw(t, "difference")
		n := rapid.Float64Range(1, 500).Draw(t, "units")
		lower, upper := w.Bounds(n)
		assert.InDelta(t, math.Log(w.Beta/(1-w.Alpha)), w.LogRatio(lower, n), 1e-8)
		assert.InDelta(t, math.Log((1-w.Beta)/w.Alpha), w.LogRatio(upper, n), 1e-8)
		assert.Greater(t, w.Lines().Slope, w.Low, "between the two values")
		assert.Less(t, w.Lines().Slope, w.High)
	})
}
