package interp_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/geocoris/geocoris/internal/testkit"
	"github.com/geocoris/geocoris/interp"
)

// gstat's experimental variograms of log zinc, see SOURCE.md.
func TestEmpiricalVariogramOfMeuse(t *testing.T) {
	for file, s := range map[string]interp.VariogramSettings{
		"meuse_lnzinc_variogram.csv":            {},
		"meuse_lnzinc_variogram_w100_c1500.csv": {Width: 100, Cutoff: 1500},
	} {
		checkVariogram(t, s, logarithms(meuse(t)), reference(t, file))
	}
}

func checkVariogram(t *testing.T, s interp.VariogramSettings, samples []interp.Sample, tb interface {
	Len() int
	Number(testing.TB, int, string) (float64, bool)
}) {
	t.Helper()
	got, err := s.Empirical(samples)
	require.NoError(t, err)
	require.Len(t, got, tb.Len())
	for row, lag := range got {
		for column, v := range map[string]float64{"np": float64(lag.Pairs), "dist": lag.Distance, "gamma": lag.Semivariance} {
			want, ok := tb.Number(t, row, column)
			require.True(t, ok)
			assert.InEpsilon(t, want, v, 1e-10, "%s, row %d", column, row+1)
		}
	}
}

// gstat's fit to the default variogram of log zinc with weights N/h². It stops
// where a step lessens the sum of squares by less than a millionth, so its
// parameters have fewer digits than are printed; ours may not be worse.
func TestVariogramFitOfMeuse(t *testing.T) {
	v, err := interp.VariogramSettings{}.Empirical(logarithms(meuse(t)))
	require.NoError(t, err)
	m, err := v.Fit(interp.Spherical)
	require.NoError(t, err)
	theirs := interp.VariogramModel{Kind: interp.Spherical, Nugget: 0.0506624268, PartialSill: 0.5906078022, Range: 897.0209098}
	assert.InEpsilon(t, theirs.Nugget, m.Nugget, 1e-4)
	assert.InEpsilon(t, theirs.PartialSill, m.PartialSill, 1e-4)
	assert.InEpsilon(t, theirs.Range, m.Range, 1e-4)
	assert.LessOrEqual(t, weightedSquares(v, m), weightedSquares(v, theirs))
}

// weightedSquares is Σ N/h² (γ − model)².
func weightedSquares(v interp.EmpiricalVariogram, m interp.VariogramModel) (sum float64) {
	for _, l := range v {
		e := l.Semivariance - m.Semivariance(l.Distance)
		sum += float64(l.Pairs) / (l.Distance * l.Distance) * e * e
	}
	return sum
}

// Lags that lie on a model give it back.
func TestVariogramFitFindsTheModel(t *testing.T) {
	for _, want := range []interp.VariogramModel{
		{Kind: interp.Spherical, Nugget: 1, PartialSill: 4, Range: 250},
		{Kind: interp.Exponential, Nugget: 0, PartialSill: 2, Range: 80},
		{Kind: interp.Gaussian, Nugget: 0.3, PartialSill: 1, Range: 120},
		{Kind: interp.Matern32, Nugget: 0.1, PartialSill: 3, Range: 60},
		{Kind: interp.Exponential, Nugget: 5, PartialSill: 0, Range: 1},
	} {
		var v interp.EmpiricalVariogram
		for h := 20.0; h <= 500; h += 30 {
			v = append(v, interp.Lag{Distance: h, Semivariance: want.Semivariance(h), Pairs: 50 + int(h)})
		}
		m, err := v.Fit(want.Kind)
		require.NoError(t, err)
		assert.InDelta(t, want.Nugget, m.Nugget, 1e-6)
		assert.InDelta(t, want.PartialSill, m.PartialSill, 1e-6)
		if want.PartialSill > 0 { // else no range shows
			assert.InEpsilon(t, want.Range, m.Range, 1e-6)
		}
	}
}

// A model never leaves 0 … sill, and grows with distance.
func TestVariogramModelGrows(t *testing.T) {
	testkit.Property(t, func(t *rapid.T) {
		m := interp.VariogramModel{
			Kind:   interp.VariogramKind(rapid.IntRange(int(interp.Spherical), int(interp.Matern32)).Draw(t, "kind")),
			Nugget: rapid.Float64Range(0, 10).Draw(t, "nugget"), PartialSill: rapid.Float64Range(0.1, 10).Draw(t, "sill"),
			Range: rapid.Float64Range(1e-3, 1e6).Draw(t, "range"),
		}
		require.NoError(t, m.Validate())
		require.Zero(t, m.Semivariance(0))
		require.Equal(t, m.Sill(), m.Covariance(0))
		h, step := rapid.Float64Range(1e-3, 1e7).Draw(t, "h"), rapid.Float64Range(0, 1e6).Draw(t, "step")
		near, far := m.Semivariance(h), m.Semivariance(h+step)
		rounding := 1e-12 * m.Sill()
		require.True(t, near >= m.Nugget-rounding && near <= far+rounding && far <= m.Sill()+rounding, "%g, %g", near, far)
		require.InDelta(t, m.Sill(), m.Semivariance(1e200), 1e-12)
		require.True(t, math.IsNaN(m.Semivariance(-1)) && math.IsNaN(m.Covariance(math.NaN())))
	})
}

// The formulas at one range: 1 − e⁻¹ for exponential and Gaussian, 1 − 2e⁻¹ for
// Matérn 3/2, 1 for spherical, and 11/16 at half of one.
func TestVariogramKinds(t *testing.T) {
	for kind, want := range map[interp.VariogramKind]float64{
		interp.Spherical: 1, interp.Exponential: 0.632120558828558, interp.Gaussian: 0.632120558828558, interp.Matern32: 0.264241117657115,
	} {
		assert.InDelta(t, want, interp.VariogramModel{Kind: kind, PartialSill: 1, Range: 7}.Semivariance(7), 1e-14, kind.String())
	}
	assert.InDelta(t, 11.0/16, interp.VariogramModel{Kind: interp.Spherical, PartialSill: 1, Range: 8}.Semivariance(4), 1e-15)
}

func TestVariogramRefuses(t *testing.T) {
	two := []interp.Sample{{Value: 1}, {X: 10, Value: 2}}
	for name, c := range map[string]struct {
		settings interp.VariogramSettings
		samples  []interp.Sample
		want     string
	}{
		"one place":          {interp.VariogramSettings{}, []interp.Sample{{}, {}}, "1 place"},
		"a value not finite": {interp.VariogramSettings{}, []interp.Sample{{}, {Value: math.NaN()}}, "NaN"},
		"a cutoff below 0":   {interp.VariogramSettings{Cutoff: -1}, two, "cutoff -1 m"},
		"no width":           {interp.VariogramSettings{Width: math.NaN()}, two, "bins of NaN m"},
		"too many bins":      {interp.VariogramSettings{Width: 1e-9}, two, "at most 10000 bins"},
		"no pairs":           {interp.VariogramSettings{Cutoff: 5}, two, "no two of 2 samples"},
	} {
		_, err := c.settings.Empirical(c.samples)
		assert.ErrorContains(t, err, c.want, name)
	}
	good := interp.Lag{Distance: 1, Semivariance: 1, Pairs: 1}
	flat := interp.Lag{Distance: 1, Pairs: 1}
	for name, c := range map[string]struct {
		lags interp.EmpiricalVariogram
		kind interp.VariogramKind
		want string
	}{
		"too few":          {interp.EmpiricalVariogram{good, good}, interp.Spherical, "2 lags"},
		"not finite":       {interp.EmpiricalVariogram{good, good, {Distance: 2, Semivariance: math.NaN(), Pairs: 1}}, interp.Spherical, "lag 3"},
		"at no distance":   {interp.EmpiricalVariogram{{Semivariance: 1, Pairs: 1}, good, good}, interp.Spherical, "lag 1"},
		"no kind":          {interp.EmpiricalVariogram{good, good, good}, 0, "kind 0"},
		"without any rise": {interp.EmpiricalVariogram{flat, flat, flat}, interp.Spherical, "do not vary"},
	} {
		_, err := c.lags.Fit(c.kind)
		assert.ErrorContains(t, err, c.want, name)
	}
	for _, m := range []interp.VariogramModel{
		{Kind: 9, PartialSill: 1, Range: 1}, {Kind: 1, PartialSill: -1, Range: 1}, {Kind: 1, Nugget: math.NaN(), Range: 1},
		{Kind: 1, Range: 1}, {Kind: 1, Nugget: 1}, {Kind: 1, Nugget: 1, Range: math.Inf(1)},
	} {
		assert.Error(t, m.Validate(), "%+v", m)
	}
}

// Lags that start flatter than the kind can would put the nugget below 0; it
// stays at 0.
func TestVariogramFitKeepsTheNuggetAtZero(t *testing.T) {
	var v interp.EmpiricalVariogram
	for h := 10.0; h <= 300; h += 20 {
		v = append(v, interp.Lag{Distance: h, Semivariance: 2 * (1 - math.Exp(-h*h/(120*120))), Pairs: 100})
	}
	m, err := v.Fit(interp.Exponential)
	require.NoError(t, err)
	assert.Zero(t, m.Nugget)
	assert.Positive(t, m.PartialSill)
	for _, other := range []float64{0.8, 0.9, 1.1, 1.25} {
		worse := m
		worse.Range *= other
		assert.Less(t, weightedSquares(v, m), weightedSquares(v, worse))
		worse = m
		worse.PartialSill *= other
		assert.Less(t, weightedSquares(v, m), weightedSquares(v, worse))
	}
}
