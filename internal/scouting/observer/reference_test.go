package observer_test

import (
	"maps"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/scouting/observer"
	"github.com/geocoris/geocoris/internal/testkit"
)

func column(t *testing.T, table testkit.Table, name string) (out []float64) {
	for row := range table.Len() {
		v, ok := table.Number(t, row, name)
		require.True(t, ok)
		out = append(out, v)
	}
	return out
}

func logs(v []float64, add float64) []float64 {
	out := make([]float64, len(v))
	for i := range v {
		out[i] = math.Log10(v[i] + add)
	}
	return out
}

// concordances are the pairs of columns that the rows of ccc_results.csv compare.
var concordances = map[string]struct {
	file          []string
	first, second string
}{
	"pefr wright_1 vs mini_1":  {[]string{"agreement", "pefr_1986.csv"}, "wright_1", "mini_1"},
	"meuse zinc vs idw2 LOO":   {[]string{"interpolation", "meuse_loo.csv"}, "zinc", "idw2_pred"},
	"meuse zinc vs OK LOO":     {[]string{"interpolation", "meuse_loo.csv"}, "zinc", "OK_pred"},
	"aphids count vs idw2 LOO": {[]string{"interpolation", "aphids_loo.csv"}, "count", "idw2_loo"},
}

// ccc_results.csv: epiR 2.0.57 on the peak flow readings of Bland & Altman 1986,
// Lancet 327:307–310, who print a bias of −2.1 and an sd of 38.8 (from memory), and
// on three sets of observed against predicted values, by gstat 2.1-0: from good to
// hardly any agreement. The coefficient with divisor n − 1 is not computed here.
func TestConcordanceAgreesWithR(t *testing.T) {
	results := testkit.ReadTable(t, testkit.Shared(t, "data", "agreement", "ccc_results.csv"))
	require.Equal(t, len(concordances), results.Len())
	for row := range results.Len() {
		name := results.Text(t, row, "case")
		t.Run(name, func(t *testing.T) {
			of, known := concordances[name]
			require.True(t, known)
			data := testkit.ReadTable(t, testkit.Shared(t, append([]string{"data"}, of.file...)...))
			checkAgreement(t, results, row, observer.Agree(column(t, data, of.first), column(t, data, of.second)))
		})
	}
}

func checkAgreement(t *testing.T, results testkit.Table, row int, got observer.Agreement) {
	for name, value := range map[string]float64{
		"n": float64(got.N), "ccc_epiR": got.Concordance, "ccc_pop_moments": got.Concordance, "ccc_lo_z": got.ConcordanceLow, "ccc_hi_z": got.ConcordanceHigh,
		"ccc_lo_asym": got.AsymptoticLow, "ccc_hi_asym": got.AsymptoticHigh, "pearson": got.Pearson, "C_b": got.Accuracy,
		"scale_shift": got.ScaleShift, "location_shift": got.LocationShift, "bias_mean_x_minus_y": got.Bias, "sd_diff": got.SD,
		"loa_lo_1.96": got.LimitLow, "loa_hi_1.96": got.LimitHigh, "rmse": got.RMSE, "mae": got.MAE,
	} {
		want, ok := results.Number(t, row, name)
		require.True(t, ok)
		assert.InEpsilon(t, want, value, 1e-9, name)
	}
}

// loglog_calibration_*.csv: R 4.2.2's lm and predict on the Meuse set.
func TestFitAgreesWithR(t *testing.T) {
	data := testkit.ReadTable(t, testkit.Shared(t, "data", "agreement", "loglog_calibration_data.csv"))
	fit := observer.FitLine(logs(column(t, data, "lead"), 0), logs(column(t, data, "zinc"), 0))
	for name, want := range quantities(t, "loglog_calibration_fit.csv") {
		got := map[string]float64{
			"intercept": fit.Intercept, "slope": fit.Slope, "se_intercept": fit.SEIntercept, "se_slope": fit.SESlope, "r_squared": fit.RSquared,
			"sigma_resid": fit.Sigma, "df": float64(fit.N - 2), "duan_smearing": fit.Smearing, "lognormal_bias_factor": fit.LogNormalSmearing,
		}[name]
		assert.InEpsilon(t, want, got, 1e-9, name)
	}
	predictions := testkit.ReadTable(t, testkit.Shared(t, "data", "agreement", "loglog_calibration_predictions.csv"))
	require.NotZero(t, predictions.Len())
	for row := range predictions.Len() {
		cell := func(name string) float64 { v, _ := predictions.Number(t, row, name); return v }
		p, c := fit.Predict(math.Log10(cell("lead"))), fit.Correct(cell("lead"))
		assert.InEpsilon(t, cell("pred_log10"), p.Value, 1e-9)
		assert.InEpsilon(t, cell("se_fit"), p.SE, 1e-9)
		assert.InEpsilon(t, cell("pi95_lo_log10"), p.Low, 1e-9)
		assert.InEpsilon(t, cell("pi95_hi_log10"), p.High, 1e-9)
		assert.InEpsilon(t, cell("pred_naive"), math.Pow(10, p.Value), 1e-9)
		assert.InEpsilon(t, cell("pred_smeared"), c.Count, 1e-9)
	}
}

func quantities(t *testing.T, file string) map[string]float64 {
	table := testkit.ReadTable(t, testkit.Shared(t, "data", "agreement", file))
	out := map[string]float64{}
	for row := range table.Len() {
		v, _ := table.Number(t, row, "value")
		out[table.Text(t, row, "quantity")] = v
	}
	require.NotEmpty(t, out)
	return out
}

// loglog_week1_week2.csv: log10(count + 1) of arthropod week 2 on week 1, by R.
func TestFitOfTwoWeeksAgreesWithR(t *testing.T) {
	data := testkit.ReadTable(t, testkit.Shared(t, "data", "insect-counts", "arthropods_6weeks_1996.csv"))
	weeks := map[string]map[string]float64{"1": {}, "2": {}}
	for row := range data.Len() {
		if week, ok := weeks[data.Text(t, row, "week")]; ok {
			week[data.Text(t, row, "col")+" "+data.Text(t, row, "row")], _ = data.Number(t, row, "count")
		}
	}
	var first, second []float64
	for _, place := range slices.Sorted(maps.Keys(weeks["1"])) {
		first, second = append(first, weeks["1"][place]), append(second, weeks["2"][place])
	}
	fit := observer.FitLine(logs(first, 1), logs(second, 1))
	want := quantities(t, "loglog_week1_week2.csv")
	assert.InEpsilon(t, want["intercept"], fit.Intercept, 1e-9)
	assert.InEpsilon(t, want["slope"], fit.Slope, 1e-9)
	assert.InEpsilon(t, want["sigma_resid"], fit.Sigma, 1e-9)
}

// Quantiles as printed in the usual tables (Fisher & Yates 1963, table III), and
// by formula: tan(π(p − ½)) for one degree of freedom.
func TestStudentT(t *testing.T) {
	for df, want := range map[float64]float64{2: 4.303, 5: 2.571, 10: 2.228, 30: 2.042, 120: 1.980} {
		assert.InDelta(t, want, observer.StudentT(0.975, df), 5.1e-4)
	}
	// By the continued fraction of Abramowitz & Stegun 1964, 26.5.8.
	for df, want := range map[float64]float64{
		3: 3.182446305283707, 8: 2.306004135204166, 12: 2.178812829667228, 29: 2.045229642132702,
		58: 2.001717484145234, 153: 1.975590315005249, 998: 1.962343846216488,
	} {
		assert.InEpsilon(t, want, observer.StudentT(0.975, df), 1e-12)
	}
	assert.InEpsilon(t, math.Tan(math.Pi*0.475), observer.StudentT(0.975, 1), 1e-12)
	assert.InEpsilon(t, 2*0.45*math.Sqrt(2/(1-4*0.45*0.45)), observer.StudentT(0.95, 2), 1e-12) // 2u√(2/(1−4u²)), u = p − ½
	assert.Equal(t, -observer.StudentT(0.9, 7), observer.StudentT(0.1, 7))
	assert.Zero(t, observer.StudentT(0.5, 7))
	for _, bad := range [][2]float64{{0, 5}, {1, 5}, {0.9, 0}, {math.NaN(), 5}} {
		assert.True(t, math.IsNaN(observer.StudentT(bad[0], bad[1])))
	}
}
