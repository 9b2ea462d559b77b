//go:build !small

package call

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/internal/engine"
)

// A small map of ground without corners is drawn without it.
func TestThinnedGroundWithoutCorners(t *testing.T) {
	type (
		point   = [2]float64
		ring    = []point
		polygon = []ring
	)
	assert.Equal(t, [][][][2]float64{{}}, thinned([]polygon{{{}}}), "a ring of nothing")
	assert.Equal(t, [][][][2]float64{{}}, thinned([]polygon{{}}))
	assert.Equal(t, [][][][2]float64{}, thinned([]polygon{}))
	assert.Equal(t, [][][][2]float64{{{{1, 2}, {1, 2}}}}, thinned([]polygon{{{}, {{1, 2}}}}), "a hole of nothing")
	var long ring
	for i := range 481 {
		long = append(long, point{float64(i), 0})
	}
	few := thinned([]polygon{{long}})[0][0]
	assert.LessOrEqual(t, len(few), fewPoints+1)
	assert.Equal(t, few[0], few[len(few)-1], "it closes")
}

// Visits that were left out are left out by the command as well.
func TestTheCommandOfWeeksLeavesOutVisits(t *testing.T) {
	q := engine.CompareRequest{}
	q.Compare.Without = []int64{2, 4}
	assert.Equal(t, "geocoris compare s.gpkg --out change --without 2,4", weeksCommand("s.gpkg", q))
}
