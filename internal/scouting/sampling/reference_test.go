package sampling_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/scouting/sampling"
	"github.com/geocoris/geocoris/internal/testkit"
)

// sprt_stop_lines.csv: Wald's lines computed in R 4.2.2, see its SOURCE.md.
func TestWaldLinesAgreeWithR(t *testing.T) {
	table := testkit.ReadTable(t, testkit.Shared(t, "data", "spatial-stats", "sprt_stop_lines.csv"))
	kinds := map[string]sampling.Distribution{
		"binomial": sampling.Binomial, "poisson": sampling.Poisson, "negative binomial": sampling.NegativeBinomial,
	}
	for row := range table.Len() {
		t.Run(table.Text(t, row, "case"), func(t *testing.T) {
			cell := func(name string) float64 { v, _ := table.Number(t, row, name); return v }
			w := sampling.Wald{
				Distribution: kinds[table.Text(t, row, "distribution")], Low: cell("mu0"), High: cell("mu1"),
				K: cell("k"), Alpha: cell("alpha"), Beta: cell("beta"),
			}
			require.NoError(t, w.Validate())
			lines := w.Lines()
			assert.InEpsilon(t, cell("slope"), lines.Slope, 1e-9)
			assert.InEpsilon(t, cell("low_intercept"), lines.Lower, 1e-9)
			assert.InEpsilon(t, cell("high_intercept"), lines.Upper, 1e-9)
		})
	}
	require.NotZero(t, table.Len())
}

// sprt_worked_sequence.csv: the documented example of R package sequential.pops
// 0.1.1 (Rincon et al.), with the log likelihood ratio beside it.
func TestWorkedSequenceEndsAtItsFifthCount(t *testing.T) {
	table := testkit.ReadTable(t, testkit.Shared(t, "data", "spatial-stats", "sprt_worked_sequence.csv"))
	w := sampling.Wald{Distribution: sampling.NegativeBinomial, Low: 2, High: 4, K: 4.6, Alpha: 0.1, Beta: 0.1}
	tally, err := sampling.NewTally(w, sampling.Settings{Independent: true})
	require.NoError(t, err)
	require.Equal(t, 5, table.Len())
	for row := range table.Len() {
		cell := func(name string) float64 { v, _ := table.Number(t, row, name); return v }
		a, err := tally.Add(sampling.Count{Total: cell("count"), Units: 1})
		require.NoError(t, err)
		assert.Equal(t, cell("cumulative"), a.Total)
		assert.InEpsilon(t, cell("low_line"), a.Lower, 1e-9)
		assert.InEpsilon(t, cell("high_line"), a.Upper, 1e-9)
		assert.InEpsilon(t, cell("log_likelihood_ratio"), w.LogRatio(a.Total, a.Units), 1e-9)
		want := sampling.GoOn
		if table.Text(t, row, "decision") == "accept H1" {
			want = sampling.Over
		}
		assert.Equal(t, want, a.Verdict, "count %d", row+1)
	}
}

// green_stop_line.csv: computed in R 4.2.2, see its SOURCE.md.
func TestGreensLineAgreesWithR(t *testing.T) {
	table := testkit.ReadTable(t, testkit.Shared(t, "data", "spatial-stats", "green_stop_line.csv"))
	require.NotZero(t, table.Len())
	for row := range table.Len() {
		cell := func(name string) float64 { v, _ := table.Number(t, row, name); return v }
		g := sampling.Green{Taylor: sampling.Taylor{A: cell("a"), B: cell("b")}, D: cell("D")}
		require.NoError(t, g.Validate())
		total := g.Line(cell("n"))
		require.InEpsilon(t, cell("T_stop"), total, 1e-9)
		// On the line, Karandinos' number of units is the number counted.
		require.InEpsilon(t, cell("n"), g.Units(total/cell("n"), g.D), 1e-9)
	}
}

func TestPublishedPlans(t *testing.T) {
	t.Run("minimum of 26 tillers", func(t *testing.T) { // Giles et al. 2003, J. Econ. Entomol. 96:975–982
		plan, ok := sampling.PlanNamed("wheat-tiller-giles")
		require.True(t, ok)
		w, ok := plan.Rule.(sampling.Wald)
		require.True(t, ok)
		assert.Equal(t, 26, w.FirstUnder())
		assert.InDelta(t, 0.05025, w.Lines().Slope, 5e-6) // derived by hand from the same values
		assert.InDelta(t, 1.2966, w.Lines().Upper, 5e-5)
	})
	t.Run("looper lines", func(t *testing.T) { // shares 0.05 and 0.15, derived by hand
		lines := sampling.Wald{Low: 0.05, High: 0.15}.Lines()
		assert.InDelta(t, 0.09193, lines.Slope, 5e-6)
		assert.InDelta(t, 1.8161, lines.Upper, 5e-5)
		assert.InDelta(t, -1.8161, lines.Lower, 5e-5)
	})
	t.Run("onion thrips", func(t *testing.T) { // a and b of Soto-Rojas et al. 2021, Insects 12:331; figures derived from them
		thrips := sampling.Taylor{A: 2.586, B: 1.511}
		assert.InDelta(t, 13.4, thrips.Units(10, 0.25), 0.05)
		assert.InDelta(t, 42.6, thrips.Units(40, 0.10), 0.05)
		for n, want := range map[float64]float64{5: 376.5, 10: 182.5, 20: 88.44, 40: 42.86} {
			assert.InEpsilon(t, want, sampling.Green{Taylor: thrips}.Line(n), 5e-4)
		}
	})
}

func TestEveryPlanIsValidAndSaysItsSource(t *testing.T) {
	for _, p := range sampling.Plans() {
		assert.NoError(t, p.Rule.Validate(), p.Name)
		assert.NotEmpty(t, p.Source, p.Name)
	}
	_, ok := sampling.PlanNamed("none of them")
	assert.False(t, ok)
}
