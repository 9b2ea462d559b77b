package compare_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/followup/compare"
	"github.com/geocoris/geocoris/internal/mapping/assess"
)

// A stop at the spray level that has a twentieth two days later is asked about; not one with more,
// three days later, below the level, or in ground that was sprayed.
func TestHotStopsThatFellToNothingAreAskedAbout(t *testing.T) {
	wide := assess.Settings{Cell: 20}
	visit := func(date string, hot, left float64) *assess.Result {
		return assessed(t, date, lattice(100, func(x, y float64) float64 {
			if x < -100 && y < 0 {
				return hot
			}
			return left
		}), wide)
	}
	for name, c := range map[string]struct {
		from, to float64
		day      string
		treated  []compare.Treatment
		fell     bool
	}{
		"two days":     {40, 2, "2031-08-16", nil, true},
		"three days":   {40, 2, "2031-08-17", nil, false},
		"more left":    {40, 2.1, "2031-08-16", nil, false},
		"below":        {39.9, 0, "2031-08-16", nil, false},
		"sprayed":      {40, 0, "2031-08-16", []compare.Treatment{strip(t, "2031-08-15", -250, 0)}, false},
		"beside spray": {40, 0, "2031-08-16", []compare.Treatment{strip(t, "2031-08-15", 0, 250)}, true},
	} {
		r, err := compare.Run(t.Context(), []*assess.Result{visit("2031-08-14", c.from, 3), visit(c.day, c.to, 3)}, compare.Settings{Treatments: c.treated, Chance: quickly})
		require.NoError(t, err, name)
		fell := r.Fields[0].Steps[0].Fallen
		if !c.fell {
			assert.Empty(t, fell, name)
			continue
		}
		require.Len(t, fell, 2, name)
		assert.Equal(t, assess.Fallen{Stop: "1", From: c.from, To: c.to, Days: 2}, fell[0], name)
	}
}
