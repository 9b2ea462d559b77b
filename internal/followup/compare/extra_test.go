package compare_test

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/followup/compare"
	"github.com/geocoris/geocoris/internal/mapping/assess"
)

// Extra stops, added where there is most, are neither matched nor part of the means that
// growth is measured by.
func TestExtraStopsAreNoGrowth(t *testing.T) {
	for _, within := range []float64{15, 0.0001} {
		morning := func(date string) *assess.Result {
			return assessed(t, date, lattice(80, func(x, _ float64) float64 { return 8 + math.Mod(math.Abs(x), 3) }), assess.Settings{})
		}
		first, second := morning("2031-08-14"), morning("2031-08-21")
		stops := second.Fields[0].Stops
		for i := range 5 {
			stops[i].Extra, stops[i].Value = true, 400
		}
		r, err := compare.Run(t.Context(), []*assess.Result{first, second}, compare.Settings{Within: within, Chance: quickly})
		require.NoError(t, err)
		f := r.Fields[0]
		assert.InDelta(t, 0, f.Steps[0].Change.Rate, 0.01)
		assert.Equal(t, len(stops)-5, f.Steps[0].Change.NB)
		assert.Contains(t, f.Notes, compare.Note{On: compare.ExtraStops, Date: "2031-08-21", N: 5})
	}
}

// Of stops that nobody marked as extra nobody says that they were.
func TestStopsThatStandTogetherAreToldSo(t *testing.T) {
	morning := func(date string) *assess.Result {
		return assessed(t, date, lattice(80, func(x, _ float64) float64 { return 8 + math.Mod(math.Abs(x), 3) }), assess.Settings{})
	}
	for _, c := range []struct {
		together []int
		marked   int
	}{{[]int{0, 1, 2}, 2}, {[]int{0, 1, 2, 3, 4}, 0}} {
		first, second := morning("2031-08-14"), morning("2031-08-21")
		field := second.Fields[0]
		for i := range 5 {
			field.Stops[i].Extra = true
		}
		together := assess.Together{At: 7, Others: c.together, Within: 12, Spacing: 145}
		field.Together = []assess.Together{together}
		r, err := compare.Run(t.Context(), []*assess.Result{first, second}, compare.Settings{Within: 15, Chance: quickly})
		require.NoError(t, err)
		notes := r.Fields[0].Notes
		told := slices.DeleteFunc(slices.Clone(notes), func(n compare.Note) bool { return n.On != compare.ExtraStops })
		if c.marked == 0 {
			assert.Empty(t, told)
		} else {
			assert.Equal(t, []compare.Note{{On: compare.ExtraStops, Date: "2031-08-21", N: c.marked}}, told)
		}
		assert.Contains(t, notes, compare.Note{On: compare.StandTogether, Date: "2031-08-21", Stop: field.Stops[7].Name, Together: &together})
	}
}
