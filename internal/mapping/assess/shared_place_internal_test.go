package assess

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// Sums of so many leaves with a variance of m + m² each, at the boundary; by hand from
// Anscombe's transform.
func TestWhatTwoCountsDifferByChance(t *testing.T) {
	of := func(total, units float64) *survey.Stop { return &survey.Stop{Total: total, Units: units} }
	for _, c := range []struct {
		a, b, units float64
		alike       bool
	}{
		{348, 418, 10, true}, {468, 138, 10, true}, {410, 100, 10, true}, {411, 100, 10, false},
		{0, 9, 10, true}, {0, 10, 10, false}, {0, 13, 4, true}, {0, 14, 4, false}, {0, 117, 1, true}, {0, 118, 1, false},
		{900, 9, 10, false}, {900, 900, 10, true}, {0, 0, 10, true},
		{math.NaN(), 9, 10, false}, {5, 5, math.NaN(), false}, {5, 5, 0, false},
	} {
		assert.Equal(t, c.alike, alikeByChance(of(c.a, c.units), of(c.b, c.units)), c)
		assert.Equal(t, c.alike, alikeByChance(of(c.b, c.units), of(c.a, c.units)), c)
	}
	assert.True(t, alikeByChance(of(400, 10), of(40, 1)), "as many a leaf")
	assert.False(t, alikeByChance(of(400, 10), of(40, 10)))
}
