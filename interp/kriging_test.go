package interp_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/geocoris/geocoris/internal/testkit"
	"github.com/geocoris/geocoris/interp"
)

// krigingAgreement is the relative difference allowed to gstat.
const krigingAgreement = 1e-8

func krige(t testing.TB, s interp.OrdinaryKriging, samples []interp.Sample) interp.VariancePredictor {
	t.Helper()
	p, err := s.Fit(samples)
	require.NoError(t, err)
	return p
}

func logarithms(samples []interp.Sample) []interp.Sample {
	out := slices.Clone(samples)
	for i := range out {
		out[i].Value = math.Log(out[i].Value)
	}
	return out
}

// The models that meuse_kriging_50nodes.csv and meuse_loo.csv were made with,
// see SOURCE.md.
var (
	lnSph   = interp.VariogramModel{Kind: interp.Spherical, Nugget: 0.05, PartialSill: 0.59, Range: 897}
	zincSph = interp.VariogramModel{Kind: interp.Spherical, Nugget: 25000, PartialSill: 135000, Range: 900}
	lnExp   = interp.VariogramModel{Kind: interp.Exponential, Nugget: 0.05, PartialSill: 0.6, Range: 300}
	lnGau   = interp.VariogramModel{Kind: interp.Gaussian, Nugget: 0.1, PartialSill: 0.55, Range: 450}
)

// Isaaks & Srivastava 1989, An Introduction to Applied Geostatistics: the seven
// samples around 65E, 137N, as remembered, and covariance 10·exp(−0.3 h); the
// book prints 592.7 and 8.96 (from memory), gstat the rest.
func TestKrigingOfWalkerSevenSamples(t *testing.T) {
	samples := samplesOf(t, reference(t, "walker7_samples.csv"), "x", "y", "v")
	p := krige(t, interp.OrdinaryKriging{Model: interp.VariogramModel{Kind: interp.Exponential, PartialSill: 10, Range: 1 / 0.3}}, samples)
	v, variance := p.PredictWithVariance(65, 137)
	assert.InDelta(t, 592.7289, v, 5e-5)
	assert.InDelta(t, 8.9561, variance, 5e-5)

	models := map[string]interp.VariogramModel{
		"ok_Exp_psill10_a3.33333_nug0": {Kind: interp.Exponential, PartialSill: 10, Range: 1 / 0.3},
		"ok_Exp_psill20_a3.33333_nug0": {Kind: interp.Exponential, PartialSill: 20, Range: 1 / 0.3},
		"ok_Gau_psill10_a5.7735_nug0":  {Kind: interp.Gaussian, PartialSill: 10, Range: 10 / math.Sqrt(3)},
		"ok_Exp_psill5_a3.33333_nug5":  {Kind: interp.Exponential, Nugget: 5, PartialSill: 5, Range: 1 / 0.3},
		"ok_Exp_psill10_a6.66667_nug0": {Kind: interp.Exponential, PartialSill: 10, Range: 2 / 0.3},
		"ok_Sph_psill10_a10_nug0":      {Kind: interp.Spherical, PartialSill: 10, Range: 10},
		"ok_Sph_psill9_a25_nug1":       {Kind: interp.Spherical, Nugget: 1, PartialSill: 9, Range: 25},
	}
	results := reference(t, "walker7_results.csv")
	compared := 0
	for row := range results.Len() {
		name := results.Text(t, row, "method")
		model, ok := models[name]
		if !ok {
			require.Equal(t, "idw", name)
			continue
		}
		v, variance := krige(t, interp.OrdinaryKriging{Model: model}, samples).PredictWithVariance(65, 137)
		assert.InEpsilon(t, number(t, results, row, "value"), v, krigingAgreement, name)
		assert.InEpsilon(t, number(t, results, row, "second"), variance, krigingAgreement, name)
		compared++
	}
	assert.Equal(t, len(models), compared)
}

func TestKrigingOfMeuseNodes(t *testing.T) {
	tb := reference(t, "meuse_kriging_50nodes.csv")
	zinc := meuse(t)
	for name, c := range map[string]struct {
		settings interp.OrdinaryKriging
		samples  []interp.Sample
	}{
		"lnSph_all":   {interp.OrdinaryKriging{Model: lnSph, Neighbors: all}, logarithms(zinc)},
		"lnSph_n20":   {interp.OrdinaryKriging{Model: lnSph, Neighbors: 20}, logarithms(zinc)},
		"zincSph_all": {interp.OrdinaryKriging{Model: zincSph, Neighbors: all}, zinc},
		"lnExp_all":   {interp.OrdinaryKriging{Model: lnExp, Neighbors: all}, logarithms(zinc)},
		"lnGau_all":   {interp.OrdinaryKriging{Model: lnGau, Neighbors: all}, logarithms(zinc)},
	} {
		checkKriging(t, krige(t, c.settings, c.samples), krigingColumns{name + "_pred", name + "_var", "x", "y"}.of(t, tb))
	}
}

func TestKrigingOfWalkerQueries(t *testing.T) {
	samples := samplesOf(t, reference(t, "walker_470.csv"), "X", "Y", "V")
	model := interp.VariogramModel{Kind: interp.Spherical, Nugget: 25000, PartialSill: 65000, Range: 40}
	p := krige(t, interp.OrdinaryKriging{Model: model, Neighbors: 16}, samples)
	checkKriging(t, p, krigingColumns{"ok16_pred", "ok16_var", "x", "y"}.of(t, reference(t, "walker_470_queries.csv")))
}

type krigingColumns struct{ value, variance, x, y string }

// krigedPlace is what a reference says of a place.
type krigedPlace struct{ x, y, value, variance float64 }

func (c krigingColumns) of(t *testing.T, tb interface {
	Len() int
	Number(testing.TB, int, string) (float64, bool)
}) (places []krigedPlace) {
	for row := range tb.Len() {
		var p krigedPlace
		for column, to := range map[string]*float64{c.value: &p.value, c.variance: &p.variance, c.x: &p.x, c.y: &p.y} {
			v, ok := tb.Number(t, row, column)
			require.True(t, ok, "row %d, %s is empty", row+1, column)
			*to = v
		}
		places = append(places, p)
	}
	require.NotEmpty(t, places)
	return places
}

func checkKriging(t *testing.T, p interp.VariancePredictor, places []krigedPlace) {
	t.Helper()
	for i, want := range places {
		v, variance := p.PredictWithVariance(want.x, want.y)
		assert.InDelta(t, want.value, v, krigingAgreement*math.Abs(want.value), "row %d", i+1)
		assert.InDelta(t, want.variance, variance, krigingAgreement*want.variance, "row %d", i+1)
		assert.Equal(t, v, p.Predict(want.x, want.y))
	}
}

// gstat's leave-one-out of log zinc: RMSE 0.39175.
func TestKrigingLeaveOneOutOfMeuse(t *testing.T) {
	tb := reference(t, "meuse_loo.csv")
	samples := logarithms(meuse(t))
	left, variances, err := interp.OrdinaryKriging{Model: lnSph, Neighbors: all}.LeaveOneOut(samples)
	require.NoError(t, err)
	score := interp.NewScore(samples, left)
	assert.InDelta(t, 0.39174947412159744, score.RMSE, 1e-8)
	assert.InDelta(t, -1.2560506479708442e-05, score.MeanError, 1e-8)
	assert.InDelta(t, 0.83938569988864697, score.Correlation, 1e-8)
	var squares float64
	for row := range tb.Len() {
		assert.InEpsilon(t, number(t, tb, row, "lnOK_pred"), left[row].Value, krigingAgreement, "row %d", row+1)
		assert.InEpsilon(t, number(t, tb, row, "lnOK_var"), variances[row], krigingAgreement, "row %d", row+1)
		squares += (samples[row].Value - left[row].Value) * (samples[row].Value - left[row].Value) / variances[row]
	}
	assert.InEpsilon(t, 0.82276331358763732, squares/float64(tb.Len()), krigingAgreement)

	left, variances, err = interp.OrdinaryKriging{Model: zincSph, Neighbors: all}.LeaveOneOut(meuse(t))
	require.NoError(t, err)
	for row := range tb.Len() {
		assert.InEpsilon(t, number(t, tb, row, "OK_pred"), left[row].Value, krigingAgreement, "row %d", row+1)
		assert.InEpsilon(t, number(t, tb, row, "OK_var"), variances[row], krigingAgreement, "row %d", row+1)
	}
}

var someModels = []interp.VariogramModel{
	{Kind: interp.Spherical, PartialSill: 2, Range: 60},
	{Kind: interp.Exponential, Nugget: 0.5, PartialSill: 2, Range: 20},
	{Kind: interp.Gaussian, Nugget: 0.01, PartialSill: 1, Range: 15},
	{Kind: interp.Matern32, PartialSill: 1, Range: 10},
}

// What every kriging predictor promises: exact at samples, variance never below
// 0 nor NaN, the same whatever the order of the samples, and moved along with
// their values.
func TestKrigingProperties(t *testing.T) {
	testkit.Property(t, func(t *rapid.T) {
		rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))
		samples := cloud(rng, rapid.IntRange(1, 40).Draw(t, "n"), func() (x, y float64) { return 100 * rng.Float64(), 80 * rng.Float64() })
		s := interp.OrdinaryKriging{Model: rapid.SampledFrom(someModels).Draw(t, "model"), Neighbors: rapid.SampledFrom([]int{1, 7, 0, all}).Draw(t, "k")}
		before := slices.Clone(samples)
		p, err := s.Fit(samples)
		require.NoError(t, err)
		require.Equal(t, before, samples, "fitting changed the samples")
		shuffled, moved := slices.Clone(samples), slices.Clone(samples)
		rng.Shuffle(len(shuffled), func(i, j int) { shuffled[i], shuffled[j] = shuffled[j], shuffled[i] })
		for i := range moved {
			moved[i].Value += 1000
		}
		q, err := s.Fit(shuffled)
		require.NoError(t, err)
		m, err := s.Fit(moved)
		require.NoError(t, err)
		for _, c := range samples {
			v, variance := p.PredictWithVariance(c.X, c.Y)
			require.Equal(t, []float64{c.Value, 0}, []float64{v, variance})
		}
		for range 10 {
			x, y := 100*rng.Float64(), 80*rng.Float64() // far off, distances tie
			v, variance := p.PredictWithVariance(x, y)
			require.True(t, variance >= 0 && variance < 1e3, "variance %g", variance)
			v2, variance2 := q.PredictWithVariance(x, y)
			require.InDelta(t, v, v2, 1e-6*(1+math.Abs(v)))
			require.InDelta(t, variance, variance2, 1e-6)
			v3, _ := m.PredictWithVariance(x, y)
			require.InDelta(t, v+1000, v3, 1e-6*(1000+math.Abs(v)), "weights do not sum to 1")
			_, d := p.PredictWithDistance(x, y)
			require.InDelta(t, nearestDistance(samples, x, y), d, 1e-9*d)
		}
	})
}

func TestKrigingLeaveOneOutEqualsFittingAnew(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	samples := cloud(rng, 30, func() (x, y float64) { return 100 * rng.Float64(), 80 * rng.Float64() })
	samples = append(samples, samples[3]) // shares a place: left out with it
	samples[30].Value++
	for _, model := range someModels {
		for _, k := range []int{6, all} {
			s := interp.OrdinaryKriging{Model: model, Neighbors: k}
			left, variances, err := s.LeaveOneOut(samples)
			require.NoError(t, err)
			for i, own := range samples {
				others := slices.DeleteFunc(slices.Clone(samples), func(o interp.Sample) bool { return o.X == own.X && o.Y == own.Y })
				v, variance := krige(t, s, others).PredictWithVariance(own.X, own.Y)
				assert.InDelta(t, v, left[i].Value, 1e-8*(1+math.Abs(v)))
				assert.InDelta(t, variance, variances[i], 1e-8)
				assert.InDelta(t, nearestDistance(others, own.X, own.Y), left[i].Distance, 1e-9)
			}
		}
	}
	left, variances, err := interp.OrdinaryKriging{Model: lnSph}.LeaveOneOut(samples[:1])
	require.NoError(t, err)
	assert.True(t, math.IsNaN(left[0].Value) && math.IsNaN(variances[0]) && math.IsInf(left[0].Distance, 1))
}

func TestKrigingRefuses(t *testing.T) {
	smooth := interp.VariogramModel{Kind: interp.Gaussian, PartialSill: 1, Range: 30}
	apart := func(d float64) []interp.Sample {
		return []interp.Sample{{X: 70, Value: 3}, {X: 100, Value: 1}, {X: 100 + d, Value: 2}}
	}
	rng := rand.New(rand.NewPCG(7, 8))
	many := cloud(rng, 1200, func() (x, y float64) { return 3000 * rng.Float64(), 3000 * rng.Float64() })
	many[1100] = many[40]
	many[1100].X += 1e-7
	for name, c := range map[string]struct {
		settings interp.OrdinaryKriging
		samples  []interp.Sample
		want     string
	}{
		"no samples":          {interp.OrdinaryKriging{Model: smooth}, nil, "no samples"},
		"a value not finite":  {interp.OrdinaryKriging{Model: smooth}, []interp.Sample{{}, {Value: math.NaN()}}, "sample 2 has the value NaN"},
		"a place not finite":  {interp.OrdinaryKriging{Model: smooth}, []interp.Sample{{X: math.NaN()}}, "sample 1 at NaN"},
		"no model":            {interp.OrdinaryKriging{}, apart(1), "variogram of kind 0"},
		"−2 neighbours":       {interp.OrdinaryKriging{Model: smooth, Neighbors: -2}, apart(1), "-2 neighbours"},
		"a micron apart":      {interp.OrdinaryKriging{Model: smooth}, apart(1e-6), "samples 2 and 3 are 1e-06 m apart"},
		"a micron, all count": {interp.OrdinaryKriging{Model: smooth, Neighbors: all}, apart(1e-6), "samples 2 and 3"},
		"close among many":    {interp.OrdinaryKriging{Model: smooth, Neighbors: 8}, many, "samples 41 and 1101"},
	} {
		t.Run(name, func(t *testing.T) {
			p, err := c.settings.Fit(c.samples)
			assert.ErrorContains(t, err, c.want)
			assert.Nil(t, p)
			_, _, err = c.settings.LeaveOneOut(c.samples)
			assert.ErrorContains(t, err, c.want)
			if err != nil {
				assert.False(t, strings.Contains(err.Error(), "\n"))
			}
		})
	}
	_, err := interp.OrdinaryKriging{Model: smooth}.Fit(apart(0.01))
	assert.NoError(t, err, "a centimetre can be told apart: condition number near 7e9")
	_, err = interp.OrdinaryKriging{Model: smooth}.Fit(apart(0))
	assert.NoError(t, err, "samples at one place are pooled")
}

func TestKrigingHasNothingToSayOfNoPlace(t *testing.T) {
	for _, k := range []int{2, all} {
		p := krige(t, interp.OrdinaryKriging{Model: lnSph, Neighbors: k}, []interp.Sample{{Value: 1}, {X: 9, Value: 2}, {Y: 9}})
		for _, bad := range [][2]float64{{math.NaN(), 0}, {0, math.Inf(1)}, {1e101, 0}} {
			v, variance := p.PredictWithVariance(bad[0], bad[1])
			assert.True(t, math.IsNaN(v) && math.IsNaN(variance))
			v, d := p.PredictWithDistance(bad[0], bad[1])
			assert.True(t, math.IsNaN(v) && math.IsNaN(d))
		}
	}
}
