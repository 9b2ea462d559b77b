package change_test

import (
	"cmp"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/followup/change"
	"github.com/geocoris/geocoris/internal/mapping/fieldstats"
	"github.com/geocoris/geocoris/internal/testkit"
	"github.com/geocoris/geocoris/interp"
)

func TestInDoubtByHand(t *testing.T) {
	assert.Equal(t, change.Range{Low: 5, High: 23}, change.InDoubt(10, 50, change.Range{Low: 7, High: 15}, change.Range{Low: 6, High: 22}))
	assert.Equal(t, change.Range{Low: 0, High: 50}, change.InDoubt(10, 50, change.Range{Low: 0, High: 50}, change.Range{Low: 0, High: 50}))
	unknown := change.Range{Low: math.NaN(), High: math.NaN()}
	assert.Equal(t, change.Range{Low: 7, High: 15}, change.InDoubt(10, 50, change.Range{Low: 7, High: 15}, unknown))
	assert.Equal(t, change.Range{Low: 10, High: 10}, change.InDoubt(10, 50))
}

// The range of the area over a level after a growth that is known to a fifth of its
// logarithm, and the area over it of the invented fields that grew so: the growth's
// range alone holds it too seldom at 90 % asked.
func TestForecastRangeCovers(t *testing.T) {
	number := cmp.Or(testkit.Fields(), 20)
	const stops, level, growth, se = 30, 40, math.Ln2, .2
	var before, after, rows float64
	for _, kind := range testkit.InventedFields() {
		var held [2]float64
		for i := range number {
			rng := rand.New(rand.NewPCG(uint64(i), 11))
			f := kind.Make(rng)
			drawn := growth + se*rng.NormFloat64()
			var samples []interp.Sample
			for _, at := range testkit.Walks()["grid"](rng, stops) {
				s := interp.Sample{X: at[0], Y: at[1]}
				for _, x := range testkit.LeafCounts(rng, f.At(at), 1, 10) {
					s.Value += x / 10
				}
				samples = append(samples, s)
			}
			p, err := interp.IDW{}.Fit(samples)
			require.NoError(t, err)
			cell := testkit.InventedSide / 40
			surface, err := interp.Fill(t.Context(), p, interp.Lattice{X0: cell / 2, Y0: cell / 2, Cell: cell, Cols: 40, Rows: 40}, interp.FillSettings{})
			require.NoError(t, err)
			over := func(rate float64) float64 { return share(surface.Values, level/math.Exp(rate)) }
			area, slow, quick := over(drawn), over(drawn-1.645*se), over(drawn+1.645*se)
			hot := 0
			for _, s := range samples {
				if s.Value*math.Exp(drawn) >= level {
					hot++
				}
			}
			truth := share(f, level/math.Exp(growth))
			stopsSay := fieldstats.AreaOver(hot, stops, 1, area, .9)
			joined := change.InDoubt(area, 1, change.Range{Low: slow, High: quick}, change.Range(stopsSay))
			if slow <= truth && truth <= quick {
				held[0] += 1 / float64(number)
			}
			if joined.Low <= truth && truth <= joined.High {
				held[1] += 1 / float64(number)
			}
		}
		t.Logf("| %s | %.2f | %.2f |", kind.Name, held[0], held[1])
		before, after, rows = before+held[0], after+held[1], rows+1
	}
	assert.Less(t, before/rows, .84, "by the growth alone")
	assert.InDelta(t, .9, after/rows, .07)
}

// share of values at or above a level.
func share(values []float64, level float64) float64 {
	n := 0.0
	for _, v := range values {
		if v >= level {
			n++
		}
	}
	return n / float64(len(values))
}
