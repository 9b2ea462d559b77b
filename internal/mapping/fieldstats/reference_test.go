package fieldstats_test

import (
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/mapping/fieldstats"
	"github.com/geocoris/geocoris/internal/testkit"
)

// row finds the row of a table in which some columns hold some text.
func row(t *testing.T, table testkit.Table, want map[string]string) int {
	t.Helper()
	for i := range table.Len() {
		all := true
		for column, text := range want {
			all = all && table.Text(t, i, column) == text
		}
		if all {
			return i
		}
	}
	require.Fail(t, "no such row", "%v", want)
	return 0
}

func number(t *testing.T, table testkit.Table, row int, column string) float64 {
	t.Helper()
	v, ok := table.Number(t, row, column)
	require.True(t, ok, "row %d, column %s", row, column)
	return v
}

// Columbus crime (Anselin 1988, Spatial Econometrics: I 0.4858, z 5.34) and African
// conflict (Anselin 1995, Geogr. Anal. 27:93–115: I 0.417), data of R package spData,
// computed with R 4.2.2, spdep 1.2-7.
func TestMoranOnNeighbourLists(t *testing.T) {
	reference := testkit.ReadTable(t, testkit.Shared(t, "data", "spatial-stats", "moran_geary.csv"))
	for file, c := range map[string]struct{ column, dataset string }{
		"columbus_neighbours.csv": {"CRIME", "columbus (Anselin 1988)"},
		"afcon_neighbours.csv":    {"totcon", "afcon (Anselin 1995)"},
	} {
		t.Run(file, func(t *testing.T) {
			data := testkit.ReadTable(t, testkit.Shared(t, "data", "spatial-stats", file))
			var v []float64
			var near fieldstats.Neighbours
			for i := range data.Len() {
				v = append(v, number(t, data, i, c.column))
				var list []int
				for _, text := range strings.Fields(data.Text(t, i, "neighbours")) {
					n, err := strconv.Atoi(text)
					require.NoError(t, err)
					list = append(list, n-1)
				}
				near = append(near, list)
			}
			a, err := fieldstats.Settings{}.Moran(v, near)
			require.NoError(t, err)
			r := row(t, reference, map[string]string{"dataset": c.dataset})
			checkMoran(t, reference, r, a)
			assert.Equal(t, 0.001, a.P, "none of 999 permutations comes near")
		})
	}
}

func checkMoran(t *testing.T, reference testkit.Table, r int, a fieldstats.Autocorrelation) {
	t.Helper()
	assert.InEpsilon(t, number(t, reference, r, "I"), a.I, 1e-10)
	assert.InEpsilon(t, number(t, reference, r, "EI"), a.Expected, 1e-12)
	assert.InEpsilon(t, number(t, reference, r, "VarI_rand"), a.Variance, 1e-10)
	assert.InEpsilon(t, number(t, reference, r, "z_rand"), a.Z, 1e-9)
}

// The wheat aphids of 1996 within 31, 45 and 65 m, R 4.2.2, spdep 1.2-7: no
// autocorrelation to speak of. The permutation p must be near the one of the
// normal approximation.
func TestMoranOfTheAphids(t *testing.T) {
	reference := testkit.ReadTable(t, testkit.Shared(t, "data", "spatial-stats", "moran_geary.csv"))
	data := testkit.ReadTable(t, testkit.Shared(t, "data", "spatial-stats", "aphids_local_d45.csv"))
	var stops []fieldstats.Stop
	var v []float64
	for i := range data.Len() {
		s := fieldstats.Stop{X: number(t, data, i, "x_m"), Y: number(t, data, i, "y_m"), Value: number(t, data, i, "count")}
		stops, v = append(stops, s), append(v, s.Value)
	}
	for metres, band := range map[float64]string{31: "0<d<=31m", 45: "0<d<=45m", 65: "0<d<=65m"} {
		a, err := fieldstats.Settings{}.Moran(v, fieldstats.Within(stops, metres))
		require.NoError(t, err)
		r := row(t, reference, map[string]string{"dataset": "aphids_1996-06-28", "variable": "count", "weights": band, "style": "W"})
		checkMoran(t, reference, r, a)
		assert.InDelta(t, number(t, reference, r, "p_greater_rand"), a.P, 0.1, "the counts are far from normal")
		assert.Greater(t, a.P, 0.05)
	}
}

// n 30, I 0.2442, variance 0.0147, expectation −1/29: z 2.30, as published (facts
// of the trade; the study is not named there).
func TestPublishedStandardScore(t *testing.T) {
	assert.InDelta(t, 2.30, fieldstats.StandardScore(0.2442, -1.0/29, 0.0147), 0.005)
}

// Dispersion by R 4.2.2: mean, variance with n − 1, variance to mean, median.
func TestDispersionOfTheAphids(t *testing.T) {
	reference := testkit.ReadTable(t, testkit.Shared(t, "data", "spatial-stats", "dispersion_indices.csv"))
	data := testkit.ReadTable(t, testkit.Shared(t, "data", "spatial-stats", "aphids_local_d45.csv"))
	var stops []fieldstats.Stop
	for i := range data.Len() {
		n := number(t, data, i, "count")
		stops = append(stops, fieldstats.Stop{X: number(t, data, i, "x_m"), Y: number(t, data, i, "y_m"), Value: n, Units: 1, Found: n > 0})
	}
	d := fieldstats.Settings{}.Describe(stops, 45)
	r := row(t, reference, map[string]string{"case": "aphids_1996-06-28"})
	assert.InEpsilon(t, number(t, reference, r, "mean"), d.Mean, 1e-12)
	assert.InEpsilon(t, number(t, reference, r, "variance"), d.Variance, 1e-12)
	assert.InEpsilon(t, number(t, reference, r, "var_mean_ratio"), d.VarianceMean, 1e-12)
	assert.Equal(t, number(t, reference, r, "median"), d.Median)
	assert.Equal(t, number(t, reference, r, "max"), d.Max)
	assert.Equal(t, number(t, reference, r, "zeros"), d.Found.Units-d.Found.Hits)
	require.NotNil(t, d.Moran)
	assert.InDelta(t, 0.0352392, d.Moran.I, 1e-7)
}

// Least squares of log10 variance on log10 mean by R 4.2.2: six dates of
// arthropods, 52 plots of webworms, 35 species of mites.
func TestTaylorFits(t *testing.T) {
	reference := testkit.ReadTable(t, testkit.Shared(t, "data", "spatial-stats", "taylor_power_law.csv"))
	for file, name := range map[string]string{
		"arthropods_mean_variance.csv":    "arthropods_6_weeks",
		"webworms_plot_mean_variance.csv": "webworms_52_plots_mean>0_var>0",
		"mites_species_mean_variance.csv": "mites_35_species",
	} {
		t.Run(file, func(t *testing.T) {
			data := testkit.ReadTable(t, testkit.Shared(t, "data", "spatial-stats", file))
			var samples []fieldstats.Spread
			for i := range data.Len() {
				samples = append(samples, fieldstats.Spread{Mean: number(t, data, i, "mean"), Variance: number(t, data, i, "variance")})
			}
			p, err := fieldstats.FitPowerLaw(samples)
			require.NoError(t, err)
			r := row(t, reference, map[string]string{"case": name})
			assert.InDelta(t, number(t, reference, r, "n"), p.N, 0)
			assert.InEpsilon(t, number(t, reference, r, "a"), p.A, 1e-9)
			assert.InEpsilon(t, number(t, reference, r, "b"), p.B, 1e-10)
			assert.InEpsilon(t, number(t, reference, r, "se_log10_a"), p.LogAErr, 1e-9)
			assert.InEpsilon(t, number(t, reference, r, "se_b"), p.BErr, 1e-9)
			assert.InEpsilon(t, number(t, reference, r, "r_squared"), p.RSquared, 1e-9)
		})
	}
}
