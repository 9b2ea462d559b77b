package compare_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/assess"
	"github.com/geocoris/geocoris/internal/compare"
	"github.com/geocoris/geocoris/internal/paired"
	"github.com/geocoris/geocoris/internal/zones"
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
	const fold, days, killed, runs = 2.5, 7, 0.95, 20
	truth := math.Log(fold) / days
	before := func(x, y float64) float64 { return 8 + 2*math.Sin(x/40)*math.Cos(y/30) }
	rng := rand.New(rand.NewPCG(3, 11))
	held := 0
	for range runs {
		first := assessed(t, "2031-08-14", lattice(50, func(x, y float64) float64 { return counted(rng, before(x, y)) }), assess.Settings{})
		second := assessed(t, "2031-08-21", lattice(50, func(x, y float64) float64 {
			m := before(x, y) * fold
			if x < 0 {
				m *= 1 - killed
			}
			return counted(rng, m)
		}), assess.Settings{})
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
		assert.Contains(t, f.Steps[0].Verdict, "in ground not treated, mean per leaf rose")
		assert.InDelta(t, 100*killed, f.Treatments[0].Efficacy.Percent, 5, "what the treatment did stays its own")
	}
	assert.GreaterOrEqual(t, held, 16, "of 20 at 95 %%: fewer have a chance of 0.3 %%")
}

var _ = zones.Treat
