package fieldstats_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/geocoris/geocoris/internal/mapping/fieldstats"
	"github.com/geocoris/geocoris/internal/testkit"
)

func stopsOf(values ...float64) (stops []fieldstats.Stop) {
	for i, v := range values {
		stops = append(stops, fieldstats.Stop{X: 30 * float64(i), Value: v, Units: 10, Hits: math.NaN(), Infested: math.NaN(), Found: v > 0, Inside: 50})
	}
	return stops
}

// 16 of 100: 0.101 to 0.244, computed from Wilson 1927; 0 of 10 ends at
// z²/(n + z²) = 0.2775.
func TestWilson(t *testing.T) {
	i := fieldstats.Wilson(16, 100, 0.95)
	assert.InDelta(t, 0.101, i.Low, 5e-4)
	assert.InDelta(t, 0.244, i.High, 5e-4)
	none := fieldstats.Wilson(0, 10, 0.95)
	assert.Zero(t, none.Low)
	assert.InDelta(t, 0.2775, none.High, 5e-5)
	for _, bad := range [][2]float64{{0, 0}, {3, 2}, {-1, 5}, {math.NaN(), 5}, {1, math.NaN()}} {
		assert.False(t, fieldstats.Wilson(bad[0], bad[1], 0.95).Known(), "%v", bad)
	}
}

// One stop of all hits among stops of none: units of a stop are alike, and the
// ten of a stop are worth about one.
func TestUnitsOfAStopAreNotIndependent(t *testing.T) {
	stops := stopsOf(0, 0, 0, 0, 9)
	for i := range stops {
		stops[i].Hits = 0
	}
	stops[4].Hits = 10
	p, ok := fieldstats.Settings{}.AtOrAbove(stops)
	require.True(t, ok)
	assert.Equal(t, 0.2, p.Share)
	assert.InEpsilon(t, 12.5, p.DesignEffect, 1e-12) // 5/4·(4·2² + 8²)/(50·0.16)
	alone := fieldstats.Wilson(10, 50, 0.95)
	assert.Less(t, p.Interval.Low, alone.Low)
	assert.Greater(t, p.Interval.High, alone.High)
	stops[2].Hits = math.NaN()
	_, ok = fieldstats.Settings{}.AtOrAbove(stops)
	assert.False(t, ok, "one stop does not tell")
}

// Where stops do not differ, or are too few to, the leaves of one may all be alike:
// they are no more than so many stops.
func TestLeavesOfStopsThatTellNoDesignEffect(t *testing.T) {
	s := fieldstats.Settings{}
	of := func(n int, infested, units float64) []fieldstats.Stop {
		stops := stopsOf(make([]float64, n)...)
		for i := range stops {
			stops[i].Units, stops[i].Infested = units, infested
		}
		return stops
	}
	for _, n := range []int{1, 2} {
		for _, infested := range []float64{0, 30, 100} {
			p, ok := s.InfestedUnits(of(n, infested, 100))
			require.True(t, ok)
			assert.Equal(t, infested/100, p.Share)
			assert.False(t, p.Interval.Known(), "%d stops, %g of 100: %v", n, infested, p.Interval)
			assert.True(t, math.IsNaN(p.DesignEffect))
		}
	}
	none, _ := s.InfestedUnits(of(10, 0, 100))
	assert.Equal(t, fieldstats.Wilson(0, 10, 0.95), none.Interval, "0 to 27.8 %, not 0.38 %")
	assert.Equal(t, 100.0, none.DesignEffect)
	all, _ := s.InfestedUnits(of(10, 7, 7))
	assert.InDelta(t, 1-0.2775, all.Interval.Low, 5e-5)
	assert.InDelta(t, 1, all.Interval.High, 1e-12)
	uneven := of(4, 0, 10)
	uneven[0].Units = 300
	p, _ := s.InfestedUnits(uneven)
	assert.InDelta(t, fieldstats.Wilson(0, 4, 0.95).High, p.Interval.High, 1e-12)
	tenth, _ := s.InfestedUnits(of(10, 10, 100))
	assert.Equal(t, 1.0, tenth.DesignEffect, "ten stops that all say a tenth")
}

// Over fields of known mean the interval must hold it about as often as it says,
// and clearly more often than the usual one, mean ± 1.96 standard errors. Stops
// are log-normal, sd of the log 0.8 and 1.5: the first is ordinary, the second as
// skewed as it gets, where nothing short of more stops helps.
func TestMeanIntervalHoldsTheMean(t *testing.T) {
	const fields, mean = 300, 10
	for _, c := range []struct {
		sd    float64
		stops int
		least float64
	}{{0.8, 20, 0.90}, {0.8, 43, 0.91}, {1.5, 43, 0.84}} {
		rng := rand.New(rand.NewPCG(7, 11))
		held, usual := 0, 0
		for range fields {
			v := make([]float64, c.stops)
			for i := range v {
				v[i] = mean * math.Exp(c.sd*rng.NormFloat64()-c.sd*c.sd/2)
			}
			i := fieldstats.Settings{Resamples: 500}.MeanInterval(v)
			require.True(t, i.Known())
			if i.Low <= mean && mean <= i.High {
				held++
			}
			if m, se := fieldstats.Mean(v), math.Sqrt(fieldstats.Variance(v)/float64(len(v))); math.Abs(m-mean) <= 1.96*se {
				usual++
			}
		}
		share := float64(held) / fields
		t.Logf("sd %g, %d stops: held %.3f, the usual interval %.3f", c.sd, c.stops, share, float64(usual)/fields)
		assert.GreaterOrEqual(t, share, c.least)
		assert.Greater(t, held, usual)
	}
}

func TestMeanInterval(t *testing.T) {
	s := fieldstats.Settings{}
	v := []float64{3, 8, 0, 12, 40, 5, 5, 9}
	i := s.MeanInterval(v)
	assert.Equal(t, i, s.MeanInterval(v), "the same seed")
	assert.NotEqual(t, i, fieldstats.Settings{Seed: 3}.MeanInterval(v))
	assert.Less(t, i.Low, fieldstats.Mean(v))
	assert.Greater(t, i.High, fieldstats.Mean(v))
	narrow := fieldstats.Settings{Level: 0.5}.MeanInterval(v)
	assert.Greater(t, narrow.Low, i.Low)
	assert.Less(t, narrow.High, i.High)
	for _, none := range [][]float64{nil, {3}, {3, 5}, {4, 4, 4, 4}, {0, 0, 0, 0, 0}} {
		assert.False(t, s.MeanInterval(none).Known(), "%v tells no spread", none)
	}
	assert.GreaterOrEqual(t, s.MeanInterval([]float64{0, 0, 0, 0, 0, 90}).Low, 0.0)
}

func TestMeanIntervalAlwaysHoldsItsMean(t *testing.T) {
	testkit.Property(t, func(t *rapid.T) {
		v := rapid.SliceOfN(rapid.Float64Range(0, 1e4), 3, 30).Draw(t, "v")
		i := fieldstats.Settings{Resamples: 200, Level: 0.9}.MeanInterval(v)
		if !i.Known() {
			return
		}
		m := fieldstats.Mean(v)
		require.LessOrEqual(t, i.Low, m*(1+1e-9))
		require.GreaterOrEqual(t, i.High, m*(1-1e-9))
	})
}

func TestMedianAndVariance(t *testing.T) {
	assert.Equal(t, 4.0, fieldstats.Median([]float64{9, 1, 4}))
	assert.Equal(t, 2.5, fieldstats.Median([]float64{4, 1, 2, 3}))
	assert.True(t, math.IsNaN(fieldstats.Median(nil)))
	assert.True(t, math.IsNaN(fieldstats.Mean(nil)))
	assert.True(t, math.IsNaN(fieldstats.Variance([]float64{3})))
	v := []float64{3, 1, 2}
	fieldstats.Median(v)
	assert.Equal(t, []float64{3, 1, 2}, v, "what was given stays as it was")
}

func TestEdgeAgainstInterior(t *testing.T) {
	stops := stopsOf(60, 10, 20, 30)
	stops[0].Inside, stops[1].Inside = -4, 7.9
	stops[2].Inside = 8
	e := fieldstats.EdgeAgainstInterior(stops)
	assert.Equal(t, fieldstats.Edge{EdgeStops: 2, InteriorStops: 2, EdgeMean: 35, InteriorMean: 25}, e)
	all := fieldstats.EdgeAgainstInterior(stops[:2])
	assert.Zero(t, all.InteriorStops)
	assert.True(t, math.IsNaN(all.InteriorMean))
}

func TestInfluence(t *testing.T) {
	v := []float64{2, 4, 0, 194}
	for i, in := range fieldstats.Influences(v) {
		rest := append(append([]float64(nil), v[:i]...), v[i+1:]...)
		assert.InEpsilon(t, fieldstats.Mean(rest), in.Without, 1e-12)
		assert.InDelta(t, fieldstats.Mean(v)-in.Without, in.Change, 1e-9)
	}
	in, ok := fieldstats.Strongest(v)
	assert.True(t, ok)
	assert.Equal(t, 3, in.Stop)
	assert.InDelta(t, 2, in.Without, 1e-9)
	_, ok = fieldstats.Strongest(v[:1])
	assert.False(t, ok)
	assert.True(t, math.IsNaN(fieldstats.Influences(v[:1])[0].Without))
}

// An interval of 20 to 45 about 30: to keep off 40 it must end a third earlier, as
// (15/10)² = 2.25 times the stops make it; to keep off 22, (10/8)² times.
func TestStopsToSettle(t *testing.T) {
	d := fieldstats.Summary{Stops: 20, Mean: 30, Interval: fieldstats.Interval{Low: 20, High: 45}}
	assert.Equal(t, 45.0, d.StopsToSettle(40))
	assert.Equal(t, 32.0, d.StopsToSettle(22)) // 31.25
	assert.Equal(t, 20.0, d.StopsToSettle(90), "settled already")
	assert.Equal(t, 20.0, d.StopsToSettle(1), "settled already")
	assert.True(t, math.IsInf(d.StopsToSettle(30), 1))
	d.Interval.High = math.NaN()
	assert.True(t, math.IsNaN(d.StopsToSettle(40)))
}

// Most stops empty: draws without the one that is not must not make the interval
// endless or unknown.
func TestMeanIntervalOfSparseFields(t *testing.T) {
	for _, n := range []int{4, 10, 43} {
		v := make([]float64, n)
		v[n/2] = 3
		i := fieldstats.Settings{}.MeanInterval(v)
		require.True(t, i.Known(), "%d stops", n)
		assert.LessOrEqual(t, i.High, 3.0)
		assert.GreaterOrEqual(t, i.High, fieldstats.Mean(v))
		assert.Zero(t, i.Low)
	}
	i := fieldstats.Settings{}.MeanInterval([]float64{90, 100, 95, 110})
	assert.True(t, i.Known())
	assert.Greater(t, i.Low, 40.0, "four stops, all far over")
}

func TestMoranRefuses(t *testing.T) {
	chain := fieldstats.Neighbours{{1}, {0, 2}, {1, 3}, {2}}
	s := fieldstats.Settings{}
	for name, c := range map[string]struct {
		v    []float64
		near fieldstats.Neighbours
		want string
	}{
		"three values":         {[]float64{1, 2, 3}, chain[:3], "want four values"},
		"a list too few":       {[]float64{1, 2, 3, 4}, chain[:3], "a list for each"},
		"all alike":            {[]float64{2, 2, 2, 2}, chain, "all values are the same"},
		"nobody near":          {[]float64{1, 2, 3, 4}, make(fieldstats.Neighbours, 4), "no place has a neighbour"},
		"its own neighbour":    {[]float64{1, 2, 3, 4}, fieldstats.Neighbours{{0}, nil, nil, nil}, "place 0 cannot have neighbour 0"},
		"a neighbour too far":  {[]float64{1, 2, 3, 4}, fieldstats.Neighbours{{9}, nil, nil, nil}, "neighbour 9"},
		"a neighbour twice":    {[]float64{1, 2, 3, 4}, fieldstats.Neighbours{{1, 1}, nil, nil, nil}, "twice"},
		"something not finite": {[]float64{1, 2, 3, math.NaN()}, chain, "all values are the same"},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := s.Moran(c.v, c.near)
			assert.ErrorContains(t, err, c.want)
		})
	}
	a, err := s.Moran([]float64{1, 2, 3, 9}, fieldstats.Neighbours{{1}, {0}, nil, {2}})
	require.NoError(t, err)
	assert.Equal(t, 1, a.Lonely)
	again, err := s.Moran([]float64{1, 2, 3, 9}, fieldstats.Neighbours{{1}, {0}, nil, {2}})
	require.NoError(t, err)
	assert.Equal(t, a, again, "the same seed")
}

// The moments under randomisation are those of all arrangements of the values:
// 5! of them, one by one.
func TestMoranMomentsAreThoseOfAllArrangements(t *testing.T) {
	v := []float64{1, 2, 5, 11, 4}
	near := fieldstats.Neighbours{{1, 2}, {0}, {0, 3, 4}, {2}, nil} // uneven, one lonely
	var all []float64
	var arrange func(done, rest []float64)
	arrange = func(done, rest []float64) {
		if len(rest) == 0 {
			a, err := fieldstats.Settings{Resamples: 1}.Moran(done, near)
			require.NoError(t, err)
			all = append(all, a.I)
			return
		}
		for i := range rest {
			arrange(append(slices.Clone(done), rest[i]), slices.Delete(slices.Clone(rest), i, i+1))
		}
	}
	arrange(nil, v)
	require.Len(t, all, 120)
	mean := fieldstats.Mean(all)
	a, err := fieldstats.Settings{}.Moran(v, near)
	require.NoError(t, err)
	assert.InDelta(t, mean, a.Expected, 1e-12)
	assert.InDelta(t, fieldstats.Variance(all)*119/120, a.Variance, 1e-12)
}

func TestFitPowerLawRefuses(t *testing.T) {
	for name, samples := range map[string][]fieldstats.Spread{
		"two fields":      {{1, 2}, {2, 3}},
		"empty fields":    {{1, 2}, {2, 3}, {0, 0}, {4, math.NaN()}},
		"one mean thrice": {{2, 2}, {2, 3}, {2, 4}},
	} {
		_, err := fieldstats.FitPowerLaw(samples)
		assert.ErrorContains(t, err, "a power law needs", name)
	}
	p, err := fieldstats.FitPowerLaw([]fieldstats.Spread{{1, 2}, {10, 2 * math.Pow(10, 1.5)}, {100, 2 * math.Pow(100, 1.5)}})
	require.NoError(t, err)
	assert.InEpsilon(t, 2, p.A, 1e-12)
	assert.InEpsilon(t, 1.5, p.B, 1e-12)
}

func TestDescribeWithLittle(t *testing.T) {
	d := fieldstats.Settings{}.Describe(stopsOf(7), 50)
	assert.Equal(t, 7.0, d.Mean)
	assert.False(t, d.Interval.Known())
	assert.Nil(t, d.Moran)
	assert.Nil(t, d.AtOrAbove)
	assert.Nil(t, d.Infested)
	assert.Nil(t, d.Strongest)
	assert.Equal(t, 1.0, d.Found.Share)
	assert.True(t, math.IsNaN(fieldstats.Settings{}.Describe(stopsOf(0, 0), 50).VarianceMean))
}
