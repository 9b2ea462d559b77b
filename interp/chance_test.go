package interp_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/geocoris/geocoris/internal/testkit"
	"github.com/geocoris/geocoris/interp"
)

func chances(t testing.TB, s interp.ChanceModel, counts []interp.Count) *interp.Chances {
	t.Helper()
	c, err := s.Fit(counts)
	require.NoError(t, err)
	return c
}

// The first sixty zinc values of Meuse as counts, with efforts of 1 to 4 units
// and, for every third, a variance of 40 times the mean. Wanted values were
// worked out for this project with NumPy 1.24.2: the restricted likelihood by
// explicit inverses and determinants, its minimum by ever finer nets, the chances
// by the textbook equations, leaving out by leaving out.
func TestChanceAgainstPlainMatrices(t *testing.T) {
	var counts []interp.Count
	for i, s := range meuse(t)[:60] {
		c := interp.Count{X: s.X, Y: s.Y, Mean: s.Value, Units: float64(1 + i%4)}
		if i%3 == 0 {
			c.Variance = 40 * s.Value
		}
		counts = append(counts, c)
	}
	c := chances(t, interp.ChanceModel{Level: 500, Offset: 20}, counts)
	p := c.Parameters()
	require.Len(t, p, 1)
	assert.Equal(t, [2]float64{20, 1}, [2]float64{p[0].Offset, p[0].Weight})
	assert.InEpsilon(t, 0.0432816829744, p[0].Aggregation, 1e-11)
	assert.InEpsilon(t, 0.9299512753, p[0].Variance, 1e-3, "the likelihood is flat at its top")
	assert.InEpsilon(t, 279.2351239, p[0].Range, 1e-3)
	assert.InEpsilon(t, 6.398519396, p[0].Mean, 1e-4)
	over := c.Over(500)
	for _, want := range []struct{ x, y, chance float64 }{
		{181180, 333740, 0.8514791553}, {180780, 333100, 0.9557056169}, {180000, 332000, 0.3712933379},
	} {
		assert.InDelta(t, want.chance, over.Predict(want.x, want.y), 1e-4)
	}
	left := c.LeaveOneOut(500)
	for i, want := range map[int]interp.LeftOutChance{
		0: {Ground: 0.9999044303, Reading: 0.9946767366}, 17: {Ground: 0.7998741461, Reading: 0.7609530856}, 59: {Ground: 0.6685566931, Reading: 0.6612216153},
	} {
		assert.InDelta(t, want.Ground, left[i].Ground, 1e-4)
		assert.InDelta(t, want.Reading, left[i].Reading, 1e-4)
	}
}

// counted are places with counts that run together: a hill of a hundred in a
// plain of one, and a reading's error.
func counted(rng *rand.Rand, n int) []interp.Count {
	counts := make([]interp.Count, n)
	for i := range counts {
		x, y := 500*rng.Float64(), 500*rng.Float64()
		m := 1 + 100*math.Exp(-(x*x+y*y)/(2*150*150))
		mean := max(0, math.Round(20*m+math.Sqrt(20*m)*rng.NormFloat64())/20)
		counts[i] = interp.Count{X: x, Y: y, Mean: mean, Units: 20, Variance: m}
	}
	return counts
}

func TestChancesProperties(t *testing.T) {
	testkit.Property(t, func(t *rapid.T) {
		rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))
		counts := counted(rng, rapid.IntRange(3, 30).Draw(t, "n"))
		s := interp.ChanceModel{Level: 40, Neighbors: rapid.SampledFrom([]int{0, 5}).Draw(t, "k")}
		before := slices.Clone(counts)
		c, err := s.Fit(counts)
		require.NoError(t, err)
		require.Equal(t, before, counts, "fitting changed the counts")
		low, at, high := c.Over(20), c.Over(40), c.Over(80)
		for range 10 {
			x, y := 600*rng.Float64()-50, 600*rng.Float64()-50
			p, d := at.PredictWithDistance(x, y)
			require.True(t, p >= 0 && p <= 1, "chance %g", p)
			require.True(t, low.Predict(x, y) >= p-1e-12 && p >= high.Predict(x, y)-1e-12, "a higher level must not be likelier")
			require.InDelta(t, 1, c.Over(0).Predict(x, y), 1e-12)
			require.GreaterOrEqual(t, d, 0.0)
		}
		for _, l := range c.LeaveOneOut(40) {
			require.True(t, l.Ground >= 0 && l.Ground <= 1 && l.Reading >= 0 && l.Reading <= 1)
		}
		var weights float64
		for _, p := range c.Parameters() {
			weights += p.Weight
			require.True(t, p.Variance > 0 && p.Range > 0)
		}
		require.InDelta(t, 1, weights, 1e-12)
	})
}

func TestChanceFollowsTheCounts(t *testing.T) {
	c := chances(t, interp.ChanceModel{Level: 40}, counted(rand.New(rand.NewPCG(1, 1)), 60))
	over := c.Over(40)
	assert.Greater(t, over.Predict(20, 20), 0.95, "on the hill, 100 per unit")
	assert.Less(t, over.Predict(450, 450), 0.05, "in the plain")
	assert.InDelta(t, 0.5, over.Predict(145, 145), 0.45, "on the slope, 40 per unit")
	p := c.Parameters()
	require.Len(t, p, 3)
	assert.Equal(t, []float64{0.025, 20, 80}, []float64{p[0].Offset, p[1].Offset, p[2].Offset})
}

// Counts that share a place are one; an effort of more units tells more.
func TestChancePoolsAndWeighsEffort(t *testing.T) {
	counts := counted(rand.New(rand.NewPCG(3, 3)), 30)
	split := slices.Clone(counts)
	split[4].Units = 5
	split = append(split, interp.Count{X: split[4].X, Y: split[4].Y, Mean: split[4].Mean, Units: 15, Variance: split[4].Variance})
	a, b := chances(t, interp.ChanceModel{Level: 40}, counts), chances(t, interp.ChanceModel{Level: 40}, split)
	assert.InDelta(t, a.Over(40).Predict(200, 100), b.Over(40).Predict(200, 100), 1e-9)
	left := b.LeaveOneOut(40)
	assert.Equal(t, left[4], left[30])

	vague := slices.Clone(counts)
	for i := range vague {
		vague[i].Units = 0.1
	}
	at := counts[7]
	sure := chances(t, interp.ChanceModel{Level: at.Mean + 1, Offset: 1}, counts).Over(at.Mean+1).Predict(at.X, at.Y)
	unsure := chances(t, interp.ChanceModel{Level: at.Mean + 1, Offset: 1}, vague).Over(at.Mean+1).Predict(at.X, at.Y)
	assert.Greater(t, math.Abs(sure-unsure), 0.01)
}

func TestChanceOfAwkwardCounts(t *testing.T) {
	three := func(means ...float64) []interp.Count {
		var counts []interp.Count
		for i, m := range means {
			counts = append(counts, interp.Count{X: float64(50 * i), Y: float64(i % 2), Mean: m, Units: 10})
		}
		return counts
	}
	near := three(1, 90, 3, 40)
	near = append(near, interp.Count{X: 1e-6, Mean: 50, Units: 10})
	for name, counts := range map[string][]interp.Count{
		"none found":    three(0, 0, 0, 0),
		"all alike":     three(7, 7, 7),
		"one in many":   three(0, 0, 0, 0, 0, 0, 400),
		"a micron away": near,
		"enormous":      three(1e12, 0, 1e-3),
	} {
		for _, level := range []float64{1e-3, 40, 1e6} {
			p := chances(t, interp.ChanceModel{Level: level}, counts).Over(level).Predict(30, 10)
			assert.True(t, p >= 0 && p <= 1, "%s at %g: %g", name, level, p)
		}
	}
	assert.Less(t, chances(t, interp.ChanceModel{Level: 40}, three(0, 0, 0, 0)).Over(40).Predict(30, 10), 0.01)
	nowhere := chances(t, interp.ChanceModel{Level: 40}, three(1, 2, 3)).Over(40)
	for _, bad := range [][2]float64{{math.NaN(), 0}, {0, math.Inf(1)}, {1e101, 0}} {
		p, d := nowhere.PredictWithDistance(bad[0], bad[1])
		assert.True(t, math.IsNaN(p) && math.IsNaN(d) && math.IsNaN(nowhere.Predict(bad[0], bad[1])))
	}
}

func TestChanceRefuses(t *testing.T) {
	good := []interp.Count{{Units: 1}, {X: 1, Units: 1}, {X: 2, Units: 1}}
	bad := func(c interp.Count) []interp.Count { return append(slices.Clone(good), c) }
	nan := math.NaN()
	for name, c := range map[string]struct {
		settings interp.ChanceModel
		counts   []interp.Count
		want     string
	}{
		"no level":           {interp.ChanceModel{}, good, "level 0"},
		"a level not finite": {interp.ChanceModel{Level: nan}, good, "level NaN"},
		"an offset below 0":  {interp.ChanceModel{Level: 1, Offset: -1}, good, "offset -1"},
		"−2 neighbours":      {interp.ChanceModel{Level: 1, Neighbors: -2}, good, "-2 neighbours"},
		"no counts":          {interp.ChanceModel{Level: 1}, nil, "0 places"},
		"two places":         {interp.ChanceModel{Level: 1}, append(good[:2:2], good[0]), "2 places"},
		"a place not finite": {interp.ChanceModel{Level: 1}, bad(interp.Count{X: nan, Units: 1}), "count 4: mean 0 at NaN"},
		"a mean not finite":  {interp.ChanceModel{Level: 1}, bad(interp.Count{Mean: nan, Units: 1}), "count 4: mean NaN"},
		"a mean below 0":     {interp.ChanceModel{Level: 1}, bad(interp.Count{Mean: -1, Units: 1}), "count 4 has the mean -1"},
		"no effort":          {interp.ChanceModel{Level: 1}, bad(interp.Count{Mean: 1}), "count 4 is of 0 units"},
		"a level above all":  {interp.ChanceModel{Level: 1.2, Binomial: true}, good, "level 1.2 of shares"},
		"a share above all":  {interp.ChanceModel{Level: 0.2, Binomial: true}, bad(interp.Count{Mean: 1.5, Units: 1}), "count 4 has the share 1.5"},
		"a variance of NaN":  {interp.ChanceModel{Level: 1}, bad(interp.Count{Mean: 1, Units: 1, Variance: nan}), "variance NaN"},
	} {
		t.Run(name, func(t *testing.T) {
			p, err := c.settings.Fit(c.counts)
			assert.ErrorContains(t, err, c.want)
			assert.Nil(t, p)
		})
	}
}

// Sharp patches on empty ground are predicted better with offsets near the level;
// the weights find that out.
func TestChanceWeighsOffsetsByForesight(t *testing.T) {
	var counts []interp.Count
	rng := rand.New(rand.NewPCG(6, 6))
	for i := range 80 {
		c := interp.Count{X: 50*float64(i%10) + 20*rng.Float64(), Y: 50*float64(i/10) + 20*rng.Float64(), Units: 20}
		if math.Hypot(c.X-150, c.Y-250) < 110 || math.Hypot(c.X-400, c.Y-100) < 90 {
			c.Mean = 90 + 20*rng.Float64()
		}
		counts = append(counts, c)
	}
	for _, p := range chances(t, interp.ChanceModel{Level: 40}, counts).Parameters() {
		if p.Offset == 0.025 {
			assert.Less(t, p.Weight, 0.2, "%+v", p)
		}
	}
}

// Over invented fields of shares, most of them high, chances by errors of shares
// foretell the truth better than by errors of means, which give a stop of nearly
// all too little weight.
func TestChancesOfSharesForetellTheTruth(t *testing.T) {
	const level, units, fields = 0.7, 20, 30
	var score [2]float64 // mean squared error of the chance
	for number := range fields {
		rng := rand.New(rand.NewPCG(uint64(number), 8))
		var waves [6][4]float64
		for i := range waves {
			waves[i] = [4]float64{rng.NormFloat64() / 60, rng.NormFloat64() / 60, 2 * math.Pi * rng.Float64(), 0.9}
		}
		share := func(x, y float64) float64 {
			v := 0.9
			for _, w := range waves {
				v += w[3] * math.Sin(w[0]*x+w[1]*y+w[2])
			}
			return 1 / (1 + math.Exp(-v))
		}
		var counts []interp.Count
		for range 50 {
			c := interp.Count{X: 300 * rng.Float64(), Y: 300 * rng.Float64(), Units: units}
			for range units {
				if rng.Float64() < share(c.X, c.Y) {
					c.Mean += 1.0 / units
				}
			}
			c.Mean = min(c.Mean, 1)
			counts = append(counts, c)
		}
		for k, binomial := range []bool{false, true} {
			over := chances(t, interp.ChanceModel{Level: level, Binomial: binomial}, counts).Over(level)
			for i := range 225 {
				x, y := 20*float64(i%15)+10, 20*float64(i/15)+10
				miss := over.Predict(x, y)
				if share(x, y) >= level {
					miss--
				}
				score[k] += miss * miss / (225 * fields)
			}
		}
	}
	t.Logf("squared error of the chance: %.4f by errors of means, %.4f by those of shares", score[0], score[1])
	assert.Less(t, score[1], score[0])
}
