package compare_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/followup/compare"
	"github.com/geocoris/geocoris/internal/geometry/zones"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/scouting/survey"
	"github.com/geocoris/geocoris/internal/testkit/given"
)

// noisy is a patch of invented numbers over 40 per leaf with scatter between stops.
func noisy(seed uint64) []stop {
	rng := rand.New(rand.NewPCG(seed, 2))
	return lattice(50, func(x, y float64) float64 {
		return math.Exp(rng.NormFloat64()/2) * max(0.5, 90*(1-math.Hypot(x+30, y-20)/160))
	})
}

// Where nothing grows a forecast is the last map, also where that is cut to catch a
// share of the ground over the level.
func TestForecastKeepsTheCutOfACatch(t *testing.T) {
	caught := assess.Settings{Cell: 10, Chance: assess.ChanceSettings{Catch: 0.95}}
	for name, c := range map[string]struct {
		set  assess.Settings
		note bool
	}{
		"at the level": {assess.Settings{Cell: 10}, false},
		"catch":        {caught, false},
		"by chance":    {assess.Settings{Cell: 10, Chance: assess.ChanceSettings{Surface: true}}, true},
	} {
		t.Run(name, func(t *testing.T) {
			r, err := compare.Run(t.Context(), []*assess.Result{
				assessed(t, "2031-08-14", noisy(7), c.set), assessed(t, "2031-08-21", noisy(7), c.set),
			}, compare.Settings{Forecast: "2031-08-25"})
			require.NoError(t, err)
			f := r.Fields[0]
			last := f.Visits[1].Assess
			require.Zero(t, f.Next.Rate)
			noted := slices.ContainsFunc(f.Notes, func(n compare.Note) bool { return n.On == compare.CutsDiffer })
			if c.note {
				plain := assessed(t, "2031-08-21", noisy(7), assess.Settings{Cell: 10}).Fields[0]
				assert.InEpsilon(t, plain.Map.Zone(zones.Treat).Area, f.Forecast.Treat, 1e-9, "the counts cut at the level")
				assert.Contains(t, f.Notes, compare.Note{On: compare.CutsDiffer, Date: "2031-08-21"})
				return
			}
			assert.False(t, noted)
			assert.InEpsilon(t, last.Map.Zone(zones.Treat).Area, f.Forecast.Treat, 1e-9)
			assert.InEpsilon(t, last.Map.Zone(zones.Watch).Area, f.Forecast.Visit.Map.Zone(zones.Watch).Area, 1e-9)
			assert.Equal(t, name == "catch", last.Settings.Levels.TreatAt < r.Levels.TreatAt)
		})
	}
	r, err := compare.Run(t.Context(), []*assess.Result{
		assessed(t, "2031-08-14", noisy(7), caught), assessed(t, "2031-08-21", noisy(8), caught),
	}, compare.Settings{})
	require.NoError(t, err)
	assert.Equal(t, compare.CutValues, r.Fields[0].Steps[0].Unlike[0].In)
}

// Invented shares of ten leaves with one aphid or more: 30 % and a week later 50 %,
// odds of 3/7 and 1, so doubling every 5.7 days: four weeks on no forecast passes
// 100 %, where numbers that grow so would make 386.
func TestSharesAreForecastByTheirOdds(t *testing.T) {
	morning := func(date string, infested func(x float64) int) *assess.Result {
		var b strings.Builder
		b.WriteString("stop,plant,longitude,latitude,count,leaves,date\n")
		for i, s := range lattice(50, func(x, y float64) float64 { return x }) {
			p := frame(t).Inverse(orb.Point{s.x, s.y})
			for leaf := range 10 {
				count := 0
				if leaf < infested(s.x) {
					count = 3
				}
				fmt.Fprintf(&b, "%d,%d,%.9f,%.9f,%d,1,%s\n", i+1, leaf, p[0], p[1], count, date)
			}
		}
		counts, err := survey.Read(given.Table(b.String()), survey.Options{})
		require.NoError(t, err)
		r, err := assess.Run(t.Context(), []geo.Field{square(t)}, counts, assess.Settings{
			KeepSurface: true,
			Statistic:   assess.Statistic{Unit: "leaf", Tally: 1}, Levels: assess.LevelSettings{TreatAt: 80, WatchAt: 40},
		})
		require.NoError(t, err)
		return r
	}
	r, err := compare.Run(t.Context(), []*assess.Result{
		morning("2031-08-14", func(x float64) int { return 3 + int(math.Copysign(1, x)) }), // 20 and 40 %
		morning("2031-08-21", func(x float64) int { return 5 + int(math.Copysign(1, x)) }), // 40 and 60 %
	}, compare.Settings{Forecast: "2031-09-18"})
	require.NoError(t, err)
	f := r.Fields[0]
	require.InDelta(t, 30, f.Visits[0].Assess.Mean, 1e-9)
	require.InDelta(t, 50, f.Visits[1].Assess.Mean, 1e-9)
	rate := math.Log(0.7/0.3) / 7
	assert.InDelta(t, rate, f.Next.Rate, 1e-9, "odds from 3/7 to 1")
	assert.True(t, f.Steps[0].Change.Odds)
	assert.InDelta(t, math.Log(4)/rate, f.Next.FieldDays, 1e-9, "odds from 1 to 4")
	for i, v := range f.Forecast.Visit.Surface.Value.Values {
		require.False(t, v > 100, "%g %% at node %d", v, i)
	}
	assert.Greater(t, f.Forecast.Visit.Map.Zone(zones.Treat).Mean, 80.0)
	assert.LessOrEqual(t, f.Forecast.Visit.Map.Zone(zones.Treat).Mean, 100.0)
	assert.True(t, f.Forecast.Odds)
	for i, d := range f.Next.Days.Values {
		if v := f.Visits[1].Grid.Surface.Value.Values[i]; !math.IsNaN(d) && v < 80 {
			require.InDelta(t, (math.Log(4)-math.Log(v/(100-v)))/rate, d, 1e-6)
		}
	}
}
