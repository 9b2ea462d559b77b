package paired_test

import (
	"flag"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat/distuv"

	"github.com/geocoris/geocoris/internal/followup/paired"
)

// truth is an invented field: 40 places whose true means are log-normal (median
// 5 per leaf, standard deviation 1.2 of the logs), counted on ten leaves each,
// negative binomial with k = 1 a leaf.
const (
	places, leaves, aggregation = 40, 10, 1.0
)

var pairs = flag.Int("pairs", 400, "pairs of surveys simulated for each figure of chance")

func trueMeans(rng *rand.Rand) []float64 {
	means := make([]float64, places)
	for i := range means {
		means[i] = 5 * math.Exp(1.2*rng.NormFloat64())
	}
	return means
}

// counted is what somebody finds there: the sum of ten negative binomials, a
// Poisson of a gamma.
func counted(means []float64, factor float64, rng *rand.Rand) []float64 {
	out := make([]float64, len(means))
	for i, m := range means {
		shape := leaves * aggregation
		mean := distuv.Gamma{Alpha: shape, Beta: shape / (m * factor * leaves), Src: rng}.Rand()
		out[i] = distuv.Poisson{Lambda: mean, Src: rng}.Rand() / leaves
	}
	return out
}

// simulate counts how often a change by a factor stands out, and how often the
// interval holds the true rate.
func simulate(t *testing.T, factor float64, matched bool) (standsOut, covered float64) {
	t.Helper()
	const days = 7
	runs := float64(*pairs)
	rng := rand.New(rand.NewPCG(20261125, 0))
	for run := range *pairs {
		means := trueMeans(rng)
		v := paired.Visits{A: counted(means, 1, rng), Matched: matched, Days: days, Least: 0.5 / leaves}
		if !matched { // another design over the same ground
			means = trueMeans(rng)
		}
		v.B = counted(means, factor, rng)
		c, err := paired.Compare(v, paired.Settings{Seed: uint64(run), Permutations: 999, Resamples: 399})
		require.NoError(t, err)
		if c.StandsOut {
			standsOut++
		}
		if truth := math.Log(factor) / days; c.Interval.Low <= truth && truth <= c.Interval.High {
			covered++
		}
	}
	return standsOut / runs, covered / runs
}

// Two surveys of one truth must not be called a change more often than the level
// says: 5 % and three standard errors (3 · 1.09 %) of 400 simulated pairs.
func TestChanceStandsOutAtMostInOneOfTwenty(t *testing.T) {
	for _, c := range []struct {
		name    string
		matched bool
		power   float64 // least, of a doubling
	}{{"matched", true, 0.9}, {"unmatched", false, 0.5}} {
		t.Run(c.name, func(t *testing.T) {
			false1, covered := simulate(t, 1, c.matched)
			power, coveredDoubling := simulate(t, 2, c.matched)
			t.Logf("%s: stands out by chance %.3f, a doubling stands out %.3f; 95 %% interval holds the truth %.3f, of a doubling %.3f",
				c.name, false1, power, covered, coveredDoubling)
			assert.LessOrEqual(t, false1, 0.05+3*math.Sqrt(0.05*0.95/float64(*pairs)))
			assert.Greater(t, power, c.power)
			assert.Greater(t, min(covered, coveredDoubling), 0.90, "95 % asked")
		})
	}
}

// Two surveys of one typical stop whose effort differs, 10 stops of one spread
// against 40 of a third of it: dealt at random, plain differences stand out in far
// more than 5 %, those by their own standard error do not.
func TestUnlikeSpreadIsNoChange(t *testing.T) {
	const runs = 1000
	rng := rand.New(rand.NewPCG(8, 1997))
	draw := func(n int, spread float64) (out []float64) {
		for range n {
			out = append(out, math.Exp(2+spread*rng.NormFloat64()))
		}
		return out
	}
	standsOut := 0.0
	for run := range runs {
		c, err := paired.Compare(paired.Visits{A: draw(10, 1.5), B: draw(40, 0.5), Days: 7, Least: 1e-9}, paired.Settings{Seed: uint64(run), Permutations: 399, Resamples: 99})
		require.NoError(t, err)
		if c.StandsOut {
			standsOut++
		}
	}
	t.Logf("stands out by chance %.3f", standsOut/runs)
	assert.LessOrEqual(t, standsOut/runs, 0.09) // 0.25 of plain differences
}

// A treatment that did nothing seldom seems to have worked, on the fewest stops that tell an
// efficacy: counted after it alone, and of the same places before it too.
func TestNothingDoneSeldomSeemsToHaveWorked(t *testing.T) {
	const outside, runs = 30, 600
	rng := rand.New(rand.NewPCG(1, 2))
	alone, before := 0.0, 0.0
	seems := func(g paired.Groups, run int) float64 {
		e, err := paired.Worked(g, paired.Settings{Seed: uint64(run), Resamples: 499})
		if err == nil && e.Interval.Low > 0 {
			return 1. / runs
		}
		return 0
	}
	for run := range runs {
		in, out := trueMeans(rng)[:paired.FewestAfter], trueMeans(rng)[:outside]
		g := paired.Groups{TreatedAfter: counted(in, 1, rng), CheckAfter: counted(out, 1, rng)}
		alone += seems(g, run)
		in = in[:paired.FewestPlaces]
		before += seems(paired.Groups{
			TreatedBefore: counted(in, 1, rng), TreatedAfter: counted(in, 1, rng),
			CheckBefore: counted(out, 1, rng), CheckAfter: counted(out, 1, rng),
		}, run)
	}
	t.Logf("seems to have worked: counted after alone %.3f, before too %.3f", alone, before)
	assert.Less(t, alone, 0.12)
	assert.Greater(t, alone, 0.01, "the test sees such at all")
	assert.Less(t, before, 0.05)
}
