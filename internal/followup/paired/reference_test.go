package paired_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/followup/paired"
	"github.com/geocoris/geocoris/internal/testkit"
)

// weeks are the counts of the arthropods of 1996 by week, trap by trap.
func weeks(t *testing.T) map[string][]float64 {
	t.Helper()
	table := testkit.ReadTable(t, testkit.Shared(t, "data", "insect-counts", "arthropods_6weeks_1996.csv"))
	out := map[string][]float64{}
	for row := range table.Len() {
		v, ok := table.Number(t, row, "count")
		require.True(t, ok)
		week := table.Text(t, row, "week")
		out[week] = append(out[week], v)
	}
	return out
}

// Rank correlations of six weeks of arthropods, all fifteen pairs, as R 4.2.2
// gives them (cor.test; ties averaged, p by the t approximation).
func TestCorrelationsOfTheArthropodsEqualTheReference(t *testing.T) {
	byWeek := weeks(t)
	table := testkit.ReadTable(t, testkit.Shared(t, "data", "spatial-stats", "arthropods_week_correlations.csv"))
	require.Equal(t, 15, table.Len())
	for row := range table.Len() {
		a, b := byWeek[table.Text(t, row, "week_a")], byWeek[table.Text(t, row, "week_b")]
		for _, c := range []struct {
			rho, p string
			f      func(a, b []float64) (paired.Correlation, error)
		}{
			{"spearman_rho", "spearman_p_asymptotic_t", paired.Spearman},
			{"pearson_r", "pearson_p", paired.Pearson},
		} {
			got, err := c.f(a, b)
			require.NoError(t, err)
			rho, _ := table.Number(t, row, c.rho)
			p, _ := table.Number(t, row, c.p)
			assert.Equal(t, 63, got.N)
			assert.InDelta(t, rho, got.Rho, 1e-12, "row %d %s", row, c.rho)
			assert.InEpsilon(t, p, got.P, 1e-9, "row %d %s", row, c.p)
		}
	}
}
