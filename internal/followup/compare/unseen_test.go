package compare_test

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/followup/change"
	"github.com/geocoris/geocoris/internal/followup/compare"
	"github.com/geocoris/geocoris/internal/geometry/zones"
	"github.com/geocoris/geocoris/internal/mapping/assess"
)

// An invented hot spot in the east, and a second walk of the west alone, or of two stops far from
// one another: neither says that it is gone. A walk of the whole field says so.
func TestAHotSpotThatNobodyWalkedAgain(t *testing.T) {
	hot := func(x, y float64) float64 { return 2 + 90*math.Exp(-(math.Pow(x-120, 2)+math.Pow(y, 2))/2500) }
	calm := lattice(40, func(x, _ float64) float64 { return 2 + math.Mod(math.Abs(x), 3) })
	west := slices.DeleteFunc(slices.Clone(calm), func(s stop) bool { return s.x > -60 })
	set := assess.Settings{Cell: 10}
	first := assessed(t, "2031-08-14", lattice(40, hot), set)
	for name, c := range map[string]struct {
		walked []stop
		gone   bool
	}{
		"the west": {west, false}, "two corners": {[]stop{{-190, -190, 2}, {-190, 190, 3}}, false}, "all": {calm, true},
	} {
		t.Run(name, func(t *testing.T) {
			r, err := compare.Run(t.Context(), []*assess.Result{first, assessed(t, "2031-08-21", c.walked, set)}, compare.Settings{Chance: quickly})
			require.NoError(t, err)
			f := r.Fields[0]
			red, s := f.Visits[0].Assess.Map.Zone(zones.Treat).Area, f.Steps[0]
			require.Greater(t, red, 1000.0)
			want, event := map[change.Kind]float64{change.Gone: red}, change.Ended
			if !c.gone {
				want, event = map[change.Kind]float64{change.NotSeen: red}, change.Lost
			}
			for _, k := range change.Kinds() {
				assert.InDelta(t, want[k], s.Areas[k], 1e-6*red, "%s", k)
			}
			require.Len(t, f.Tracks.Steps, 1)
			assert.Equal(t, event, f.Tracks.Steps[0].Event)
		})
	}
}
