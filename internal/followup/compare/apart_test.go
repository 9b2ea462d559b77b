package compare_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/followup/compare"
	"github.com/geocoris/geocoris/internal/followup/paired"
	"github.com/geocoris/geocoris/internal/geometry/zones"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/testkit"
)

// strip is treated ground between two metres east of the square's centre.
func strip(t testing.TB, date string, from, to float64) compare.Treatment {
	xy := orb.MultiPolygon{{{{from, -250}, {to, -250}, {to, 250}, {from, 250}, {from, -250}}}}
	return compare.Treatment{Date: date, Ground: frame(t).InversePolygons(xy)}
}

// counted are invented means with the noise of counts on ten leaves: negative
// binomial in spread, variance m + m²/8 of the sum.
func counted(rng *rand.Rand, mean float64) float64 {
	m := 10 * mean
	return max(0, math.Round(m+math.Sqrt(m+m*m/8)*rng.NormFloat64())) / 10
}

// quickly draws less chance than a person needs.
var quickly = paired.Settings{Permutations: 199, Resamples: 399}

// Invented: the west half is treated the day after the first count and 95 % of what
// would be there dies; outside all grows 2.5-fold in 7 days, from 8 to 20 per leaf.
// The rate that is found must hold the true one, whatever the treatment did.
func TestGrowthIsTheUntreatedGrounds(t *testing.T) {
	const fold, days, killed = 2.5, 7, 0.95
	runs := testkit.Few(20, 10)
	truth, wide := math.Log(fold)/days, assess.Settings{Cell: 10} // fewer nodes, of which nothing here asks
	before := func(x, y float64) float64 { return 8 + 2*math.Sin(x/40)*math.Cos(y/30) }
	rng := rand.New(rand.NewPCG(3, 11))
	held := 0
	for range runs {
		first := assessed(t, "2031-08-14", lattice(50, func(x, y float64) float64 { return counted(rng, before(x, y)) }), wide)
		second := assessed(t, "2031-08-21", lattice(50, func(x, y float64) float64 {
			m := before(x, y) * fold
			if x < 0 {
				m *= 1 - killed
			}
			return counted(rng, m)
		}), wide)
		r, err := compare.Run(t.Context(), []*assess.Result{first, second}, compare.Settings{
			Treatments: []compare.Treatment{strip(t, "2031-08-15", -250, 0)}, Forecast: "2031-08-30", Chance: quickly,
		})
		require.NoError(t, err)
		f := r.Fields[0]
		if n := f.Next; n.Interval.Low <= truth && truth <= n.Interval.High {
			held++
		}
		assert.InEpsilon(t, truth, f.Next.Rate, 0.35)
		require.NotNil(t, f.Forecast)
		assert.Greater(t, f.Forecast.Treat, 0.0, "20 per leaf grow to 65 in nine days")
		crossing := math.Log(40.0/20) / truth // 5.3 days after the 21st
		assert.LessOrEqual(t, f.Next.GoBackBy, "2031-08-26", "%.1f days to the level", crossing)
		assert.Equal(t, compare.Untreated, f.Steps[0].Basis)
		assert.Equal(t, 1, f.Steps[0].Change.Grew())
		assert.InDelta(t, 100*killed, f.Treatments[0].Efficacy.Percent, 5, "what the treatment did stays its own")
	}
	assert.GreaterOrEqual(t, held, 16*runs/20, "at 95 %%: fewer than 16 of 20 have a chance of 0.3 %%, than 8 of 10 one of 1.2 %%")
}

// A spray of a day, of a strip, and visits a week apart; means are even, so that
// rates are known to the last figure. Outside all grows 2.5-fold a week.
func TestSequencesWithTreatmentsBetween(t *testing.T) {
	const fold = 2.5
	pace := math.Log(fold) / 7
	days := []string{"2031-08-14", "2031-08-21", "2031-08-28"}
	all, west := [2]float64{-250, 250}, [2]float64{-250, 0}
	for _, c := range []struct {
		name   string
		on     []string
		ground [2]float64
		left   [3]float64 // part of what would be there in that ground, by visit
		basis  []compare.Basis
		rates  []float64
		over   float64 // of the step over all
	}{
		{"none", nil, west, [3]float64{1, 1, 1}, []compare.Basis{compare.AllGround, compare.AllGround, compare.AllGround}, []float64{pace, pace}, pace},
		{"between the first two", []string{"2031-08-15"}, west, [3]float64{1, 0.05, 0.05}, []compare.Basis{compare.Untreated, compare.Untreated, compare.Untreated}, []float64{pace, pace}, pace},
		{"between the last two", []string{"2031-08-22"}, west, [3]float64{1, 1, 0.05}, []compare.Basis{compare.AllGround, compare.Untreated, compare.Untreated}, []float64{pace, pace}, pace},
		{"each week", []string{"2031-08-15", "2031-08-22"}, west, [3]float64{1, 0.05, 0.0025}, []compare.Basis{compare.Untreated, compare.Untreated, compare.Untreated}, []float64{pace, pace}, pace},
		{"all of it, between the first two", []string{"2031-08-15"}, all, [3]float64{1, 0.05, 0.04}, []compare.Basis{compare.NoGround, compare.Regrowth, compare.NoGround},
			[]float64{math.NaN(), pace + math.Log(0.8)/7}, math.NaN()},
		{"all of it, between the last two", []string{"2031-08-22"}, all, [3]float64{1, 1, 0.05}, []compare.Basis{compare.AllGround, compare.NoGround, compare.NoGround}, []float64{pace, math.NaN()}, math.NaN()},
		{"after the last", []string{"2031-08-28"}, all, [3]float64{1, 1, 1}, []compare.Basis{compare.AllGround, compare.AllGround, compare.AllGround}, []float64{pace, pace}, pace},
		{"on the day of the first", []string{"2031-08-14"}, west, [3]float64{1, 0.05, 0.05}, []compare.Basis{compare.Untreated, compare.Untreated, compare.Untreated}, []float64{pace, pace}, pace},
		{"21 days before the first", []string{"2031-07-24"}, west, [3]float64{1, 1, 1}, []compare.Basis{compare.Untreated, compare.AllGround, compare.Untreated}, []float64{pace, pace}, pace},
		{"22 days before the first", []string{"2031-07-23"}, west, [3]float64{1, 1, 1}, []compare.Basis{compare.AllGround, compare.AllGround, compare.AllGround}, []float64{pace, pace}, pace},
	} {
		t.Run(c.name, func(t *testing.T) {
			var results []*assess.Result
			for week, day := range days {
				results = append(results, assessed(t, day, lattice(80, func(x, y float64) float64 {
					v := 400 * math.Pow(fold, float64(week))
					if c.ground[0] <= x && x <= c.ground[1] {
						v *= c.left[week]
					}
					return v
				}), assess.Settings{Levels: assess.LevelSettings{TreatAt: 4000}}))
			}
			var treatments []compare.Treatment
			for _, day := range c.on {
				treatments = append(treatments, strip(t, day, c.ground[0], c.ground[1]))
			}
			r, err := compare.Run(t.Context(), results, compare.Settings{Treatments: treatments, Forecast: "2031-09-01", Chance: quickly})
			require.NoError(t, err)
			f := r.Fields[0]
			for i, s := range []*compare.Step{f.Steps[0], f.Steps[1], f.Overall} {
				want := append(c.rates, c.over)[i]
				assert.Equal(t, c.basis[i], s.Basis)
				if math.IsNaN(want) {
					assert.True(t, math.IsNaN(s.Change.Rate))
					assert.False(t, s.Change.StandsOut)
					for _, p := range s.Parts {
						assert.True(t, p.Lot == compare.TreatedBetween || p.NA+p.NB == 0)
					}
					continue
				}
				assert.InEpsilon(t, want, s.Change.Rate, 1e-9)
			}
			last := f.Steps[1]
			assert.Equal(t, last.Basis, f.Next.Basis)
			if last.Basis == compare.NoGround {
				assert.Nil(t, f.Forecast, "rather none than a wrong one")
				assert.Contains(t, f.Notes, compare.Note{On: compare.NoForecast})
				assert.True(t, f.Next.Why.Unsure)
				require.Len(t, f.Next.Within, 1)
				return
			}
			assert.InEpsilon(t, last.Change.Rate, f.Next.Rate, 1e-12)
			require.NotNil(t, f.Forecast)
			assert.Equal(t, last.Basis, f.Forecast.Basis)
		})
	}
}

// Ground not treated tells growth from six stops at each visit on; with five, none is
// given, matched or not.
func TestSixStopsInUntreatedGroundTellGrowth(t *testing.T) {
	for _, c := range []struct {
		free, shift float64 // metres of the strip, and of the second visit's stops
		basis       compare.Basis
		matched     bool
		stops       int // at each visit in that ground
	}{
		{6, 0, compare.Untreated, true, 6},
		{5, 0, compare.NoGround, false, 5},
		{6, 25, compare.Untreated, false, 6},
		{5, 25, compare.NoGround, false, 5},
	} {
		some := func(value, shift float64) (out []stop) {
			for i := range 10 {
				out = append(out, stop{-180 + 40*float64(i), shift, value + float64(i%3)})
			}
			return out
		}
		edge := -200 + 40*(10-c.free)
		r, err := compare.Run(t.Context(), []*assess.Result{
			assessed(t, "2031-08-14", some(8, 0), assess.Settings{}), assessed(t, "2031-08-21", some(20, c.shift), assess.Settings{}),
		}, compare.Settings{Treatments: []compare.Treatment{strip(t, "2031-08-15", -250, edge)}, Chance: quickly})
		require.NoError(t, err)
		s := r.Fields[0].Steps[0]
		assert.Equal(t, c.basis, s.Basis)
		assert.Equal(t, c.matched, s.Change.Matched)
		assert.Equal(t, [2]int{c.stops, c.stops}, [2]int{s.Parts[0].NA, s.Parts[0].NB})
	}
}

// Six matched stops carry a comparison by themselves, five do not.
func TestSixPairsAreMatched(t *testing.T) {
	for pairs, matched := range map[int]bool{5: false, 6: true, 7: true} {
		var a, b []stop
		for i := range 9 {
			x, away := -160+40*float64(i), 0.0
			if i >= pairs {
				away = 60
			}
			a, b = append(a, stop{x, 0, 5}), append(b, stop{x, away, 9 + float64(i%2)})
		}
		r, err := compare.Run(t.Context(), []*assess.Result{assessed(t, "2031-08-14", a, assess.Settings{}), assessed(t, "2031-08-21", b, assess.Settings{})}, compare.Settings{Chance: quickly})
		require.NoError(t, err)
		s := r.Fields[0].Steps[0]
		require.Len(t, s.Pairs, pairs)
		assert.Equal(t, matched, s.Change.Matched, "%d pairs", pairs)
	}
}

// A count on the day of a spray was made before it: the visit of the day is the one
// before, and the next the one after.
func TestACountOnTheDayOfTheSprayComesBeforeIt(t *testing.T) {
	before := func(x, y float64) float64 { return 20 + x/50 }
	after := func(x, y float64) float64 {
		if x < 0 {
			return before(x, y) / 10
		}
		return before(x, y)
	}
	results := []*assess.Result{
		assessed(t, "2031-08-14", lattice(50, before), assess.Settings{}),
		assessed(t, "2031-08-21", lattice(50, before), assess.Settings{}),
		assessed(t, "2031-08-28", lattice(50, after), assess.Settings{}),
	}
	for _, c := range []struct {
		day           string
		before, after int
	}{{"2031-08-13", -1, 0}, {"2031-08-14", 0, 1}, {"2031-08-20", 0, 1}, {"2031-08-21", 1, 2}, {"2031-08-22", 1, 2}, {"2031-08-28", 2, -1}} {
		r, err := compare.Run(t.Context(), results, compare.Settings{Treatments: []compare.Treatment{strip(t, c.day, -250, 0)}, Chance: quickly})
		require.NoError(t, err)
		f := r.Fields[0]
		got := f.Treatments[0]
		assert.Equal(t, c.before, got.Before, c.day)
		assert.Equal(t, c.after, got.After, c.day)
		assert.Equal(t, c.before == 0, len(f.Steps[0].TreatedOn) == 1, c.day)
		assert.Equal(t, c.before == 1, len(f.Steps[1].TreatedOn) == 1, c.day)
		if c.before == 1 {
			require.NotNil(t, got.Efficacy, got.Why)
			assert.InDelta(t, 90, got.Efficacy.Percent, 0.5)
		}
		if c.after < 0 {
			assert.True(t, slices.ContainsFunc(f.Notes, func(n compare.Note) bool { return n.On == compare.NoCountAfter && n.Treatment.Date == c.day }))
		}
	}
}

// Watch ground that is watch for being unscouted alone brings nobody back early, though
// simpler lines make it a little larger than what lies beyond reach.
func TestUnscoutedGroundIsNoColony(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 1))
	for range 4 {
		var few []stop
		for range 9 {
			few = append(few, stop{-190 + 200*rng.Float64(), -190 + 380*rng.Float64(), 0.5})
		}
		back := func(hottest float64) (*compare.Field, string) {
			some := slices.Clone(few)
			some[4].value = hottest
			r, err := compare.Run(t.Context(), []*assess.Result{
				assessed(t, "2031-08-14", some, assess.Settings{}), assessed(t, "2031-08-21", some, assess.Settings{}),
			}, compare.Settings{Chance: quickly})
			require.NoError(t, err)
			return r.Fields[0], r.Fields[0].Next.GoBackBy
		}
		f, day := back(0.5)
		m := f.Visits[1].Assess.Map
		require.Positive(t, m.Unscouted, "the east was not walked")
		require.Greater(t, m.Zone(zones.Watch).Area, m.Unscouted)
		assert.Equal(t, "2031-08-28", day)
		f, day = back(12.6)
		assert.InDelta(t, 12.6, f.Visits[1].Levels.WatchAt, 0.1)
		assert.Equal(t, "2031-08-24", day, "a stop at the watch level is a colony")
	}
}

// The look that a treatment of poor control wants: 14 days
// after it, where the last count came less than 10 after it and the usual visit would
// come later.
func TestATreatmentWantsAnotherLook(t *testing.T) {
	for _, c := range []struct {
		on, back string
		why      compare.Reason
	}{
		{"2031-08-14", "2031-08-28", compare.Reason{Days: 7}}, // the 14th day is the usual one
		{"2031-08-13", "2031-08-27", compare.Reason{Cause: compare.SecondLook, Treated: "2031-08-13"}},
		{"2031-08-12", "2031-08-26", compare.Reason{Cause: compare.SecondLook, Treated: "2031-08-12"}},
		{"2031-08-11", "2031-08-28", compare.Reason{Days: 7}}, // the count of the 21st was that look
	} {
		some := lattice(80, func(x, y float64) float64 { return 1 })
		r, err := compare.Run(t.Context(), []*assess.Result{
			assessed(t, "2031-08-10", some, assess.Settings{}), assessed(t, "2031-08-21", some, assess.Settings{}),
		}, compare.Settings{Treatments: []compare.Treatment{strip(t, c.on, -250, 0)}, Chance: quickly})
		require.NoError(t, err)
		n := r.Fields[0].Next
		assert.Equal(t, c.back, n.GoBackBy, c.on)
		assert.Equal(t, c.why, n.Why)
	}
}
