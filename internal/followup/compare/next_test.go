package compare_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/followup/compare"
	"github.com/geocoris/geocoris/internal/mapping/assess"
)

// The day to go back by is not after that until which the last map is good: from a
// watch level of 20 or 30 and a doubling in 4 days 40 is reached in 4 and in 1.66.
func TestGoBackWhileTheMapIsGood(t *testing.T) {
	low := func(x, y float64) float64 { return 1 + x/1000 }
	for _, c := range []struct {
		watch, doubling float64
		want            string
	}{
		{20, 14, "2031-08-28"}, // good for 14 days, the usual 7 come first
		{20, 7, "2031-08-28"},  // at equality
		{20, 4, "2031-08-25"},
		{30, 4, "2031-08-22"},
		{39, 4, "2031-08-22"}, // good for no day: not on the day of the count
	} {
		set := assess.Settings{Levels: assess.LevelSettings{TreatAt: 40, WatchAt: c.watch, Doubling: c.doubling}}
		stops := lattice(100, low)
		r, err := compare.Run(t.Context(), []*assess.Result{assessed(t, "2031-08-14", stops, set), assessed(t, "2031-08-21", stops, set)}, compare.Settings{})
		require.NoError(t, err)
		next := r.Fields[0].Next
		assert.Equal(t, c.want, next.GoBackBy, c)
		assert.Equal(t, c.want < "2031-08-28" && c.watch < 39, next.Why.Cause == compare.MapGoodUntil, next.Why)
	}
}
