package verdict_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/mapping/verdict"
)

// among25 are 25 stops of 0 to 3 on a grid 100 m apart, but for those given by column and
// row.
func among25(counts map[[2]int]float64) [][3]float64 {
	stops := grid(25)
	for k := range stops {
		i, j := k%5, k/5
		stops[k][2] = float64((i*7 + j*3) % 4)
		if c, given := counts[[2]int{i, j}]; given {
			stops[k][2] = c
		}
	}
	return stops
}

// A count at the other end of the field bears out no hot stop: more pests there never
// make an answer milder.
func TestACountFarAwayNeverMakesTheAnswerMilder(t *testing.T) {
	alone := withExtra(t, among25(map[[2]int]float64{{2, 2}: 119}), nil)
	require.Equal(t, verdict.Undecided, alone.Kind, alone.Line)
	for _, corner := range [][2]int{{0, 0}, {4, 0}, {0, 4}, {4, 4}} {
		for _, far := range []float64{10, 20, 30, 39, 40, 60, 119} {
			v := withExtra(t, among25(map[[2]int]float64{{2, 2}: 119, corner: far}), nil)
			name := fmt.Sprintf("%g at %v: %s", far, corner, v.Line)
			require.NotEqual(t, verdict.LookAgain, v.Kind, name)
			if v.Kind == verdict.Undecided {
				assert.Contains(t, v.Round, "13", name)
			}
		}
	}
	at := among25(map[[2]int]float64{{2, 2}: 119})
	with := withExtra(t, append(at, [3]float64{5, 495, 20}), nil)
	assert.Equal(t, verdict.Undecided, with.Kind, "a stop more: %s", with.Line)
}

// A hot stop beside a warm one is mild; a second one that stands alone is walked round,
// whatever stands beside the first.
func TestEachHotStopIsBorneOutByOneNearIt(t *testing.T) {
	for at, want := range map[[2]int]verdict.Kind{
		{2, 3}: verdict.LookAgain, {3, 3}: verdict.LookAgain, {2, 4}: verdict.LookAgain, {1, 4}: verdict.LookAgain,
		{0, 4}: verdict.Undecided, {4, 4}: verdict.Undecided,
	} {
		v := withExtra(t, among25(map[[2]int]float64{{2, 2}: 119, at: 20}), nil)
		assert.Equal(t, want, v.Kind, "20 at %v: %s", at, v.Line)
	}
	both := withExtra(t, among25(map[[2]int]float64{{1, 1}: 60, {0, 1}: 20, {4, 4}: 50}), nil)
	assert.Equal(t, verdict.Undecided, both.Kind, both.Line)
	assert.Contains(t, both.Round, "25")
}
