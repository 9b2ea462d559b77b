package handoff_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/spraying/handoff"
)

// The last day to spray on is the earlier of the next look and the end of the map; a day
// after the look, at which the map is good still, is noted, and that day itself is not.
func TestSprayBeforeTheNextLook(t *testing.T) {
	for _, c := range []struct {
		look, on, by string
		first        bool
	}{
		{"2026-07-18", "2026-07-18", "2026-07-18", false},
		{"2026-07-18", "2026-07-19", "2026-07-18", true},
		{"2026-07-18", "2026-07-22", "2026-07-18", true},
		{"2026-07-18", "2026-07-23", "2026-07-18", false}, // too late, which is told for itself
		{"2026-07-18", "", "2026-07-18", false},
		{"2026-07-25", "2026-07-22", "2026-07-22", false},
		{"", "2026-07-22", "2026-07-22", false},
		{"soon", "2026-07-22", "2026-07-22", false},
	} {
		set := settings()
		set.GoodFor, set.SprayOn = 0, c.on
		r, err := handoff.Run(with(goodUntil("2026-07-22"), geo.Property{Name: "verdict", Value: "spot spray"}, geo.Property{Name: "look_again", Value: c.look}), set)
		require.NoError(t, err)
		assert.Equal(t, c.by, r.Jobs[0].SprayBy(), c)
		assert.Equal(t, c.first, r.Jobs[0].LookFirst(), c)
		assert.Equal(t, c.first, strings.Contains(strings.Join(r.Notes, "; "), "the map asks for a look on Saturday 18 July"), r.Notes)
	}
}
