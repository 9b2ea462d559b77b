package rules_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/geocoris/geocoris/internal/mapping/rules"
	"github.com/geocoris/geocoris/internal/testkit"
)

// Cotton aphid, Kerns, Yates & Baugh 2015, J. Econ. Entomol.: injury level 137 per
// leaf, r 0.222 a day; economic thresholds 110, 70, 45, 29 at 1, 3, 5, 7 days.
func TestCottonAphidLeads(t *testing.T) {
	for days, want := range map[float64]float64{1: 110, 3: 70, 5: 45, 7: 29} {
		th, err := rules.Lead{EIL: 137, Growth: 0.222, Days: days}.Compute()
		require.NoError(t, err)
		assert.Equal(t, want, math.Round(th.ET), "%g days", days)
	}
	th, err := rules.Lead{EIL: 137, Growth: 0.222, Days: 3}.Compute()
	require.NoError(t, err)
	assert.Equal(t, []string{"ET = EIL·e^(−r·L) = 137·e^(−0.222·3) = 70.39"}, th.Steps)
}

// 33,256·C/(V·F), Knutson & Cronholm 2007, Southwest. Entomol. 32:75–85; the
// figures put in are invented, the answer worked by hand: 33,256·5/(6·18,000).
func TestMidge(t *testing.T) {
	th, err := rules.Midge{Cost: 5, Price: 6, Heads: 18000}.Compute()
	require.NoError(t, err)
	assert.InDelta(t, 1.5396, th.EIL, 5e-5)
	assert.Equal(t, []string{"midges per flowering head = 33256·C/(V·F) = 33256·5/(6·18000) = 1.54"}, th.Steps)
}

// Invented figures, worked by hand: 12/(4·0.02·0.9) = 166.67, and with a growth
// of ln 2/3.5 a day over 7 days two doublings less: 41.67.
func TestEIL(t *testing.T) {
	th, err := rules.Economics{Cost: 12, Price: 4, Loss: 0.02, Control: 0.9, Growth: rules.DailyGrowth(3.5), Lead: 7}.Compute()
	require.NoError(t, err)
	assert.InDelta(t, 166.6667, th.EIL, 1e-4)
	assert.InDelta(t, 41.6667, th.ET, 1e-4)
	assert.Equal(t, "EIL = C/(V·b·K) = 12/(4·0.02·0.9) = 166.7", th.Steps[0])
	assert.Len(t, th.Steps, 2)
}

// A caterpillar in the head, as headworms are, for which no published figure is at
// hand: all invented. 40,000 heads an acre at 0.006 lb for each larva are 240 lb, so
// b = 2.4 in 100 lb; by hand 6.25·2.4 = 15, 15·0.8 = 12, 9/12 = 0.75 larvae per head.
// It does not multiply within the lead time, so the threshold is the injury level.
func TestPestOfTheHead(t *testing.T) {
	th, err := rules.Economics{Cost: 9, Price: 6.25, Loss: 40_000 * 0.006 / 100, Control: 0.8, Lead: 3}.Compute()
	require.NoError(t, err)
	assert.InDelta(t, 0.75, th.EIL, 1e-12)
	assert.InDelta(t, 0.75, th.ET, 1e-12)
	assert.Equal(t, []string{"EIL = C/(V·b·K) = 9/(6.25·2.4·0.8) = 0.75", "ET = EIL·e^(−r·L) = 0.75·e^(−0·3) = 0.75"}, th.Steps)
}

// At the injury level the averted loss equals the cost: V·EIL·b·K = C.
func TestAtTheInjuryLevelControlPaysItself(t *testing.T) {
	testkit.Property(t, func(t *rapid.T) {
		above := rapid.Float64Range(0.01, 1000)
		e := rules.Economics{Cost: above.Draw(t, "C"), Price: above.Draw(t, "V"), Loss: above.Draw(t, "b"),
			Control: rapid.Float64Range(0.01, 1).Draw(t, "K"), Growth: rapid.Float64Range(0, 1).Draw(t, "r"), Lead: rapid.Float64Range(0, 30).Draw(t, "L")}
		th, err := e.Compute()
		require.NoError(t, err)
		require.InEpsilon(t, e.Cost, e.Price*th.EIL*e.Loss*e.Control, 1e-12)
		require.LessOrEqual(t, th.ET, th.EIL)
	})
}

func TestComputeRefuses(t *testing.T) {
	good := rules.Economics{Cost: 12, Price: 4, Loss: 0.02, Control: 0.9}
	for name, c := range map[string]struct {
		change func(*rules.Economics)
		want   string
	}{
		"no cost":           {func(e *rules.Economics) { e.Cost = 0 }, "cost 0"},
		"no price":          {func(e *rules.Economics) { e.Price = math.NaN() }, "price NaN"},
		"no loss":           {func(e *rules.Economics) { e.Loss = -1 }, "loss per pest -1"},
		"no control":        {func(e *rules.Economics) { e.Control = 0 }, "control 0"},
		"more than all":     {func(e *rules.Economics) { e.Control = 1.1 }, "1 at most"},
		"shrinking":         {func(e *rules.Economics) { e.Growth = -0.1 }, "growth -0.1"},
		"control yesterday": {func(e *rules.Economics) { e.Lead = -1 }, "lead time -1"},
	} {
		t.Run(name, func(t *testing.T) {
			e := good
			c.change(&e)
			_, err := e.Compute()
			assert.ErrorContains(t, err, c.want)
		})
	}
	_, err := rules.Midge{Cost: 5, Price: 6}.Compute()
	assert.ErrorContains(t, err, "heads 0")
	_, err = rules.Lead{Growth: 0.1}.Compute()
	assert.ErrorContains(t, err, "injury level 0")
}
