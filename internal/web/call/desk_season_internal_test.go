//go:build !small

package call

import (
	"testing"

	"github.com/stretchr/testify/assert"
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
