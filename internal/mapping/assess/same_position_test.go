package assess_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// Plants that are named by their stop share its place and no more than that; stops that a phone
// gave one fix share it while the others do not, or are named in their order.
func TestStopsAtOnePosition(t *testing.T) {
	at := func(place int, names ...string) (all []survey.Stop) {
		for _, name := range names {
			all = append(all, survey.Stop{Name: name, Longitude: float64(place), Date: "2026-07-15", Records: make([]survey.Record, 1)})
		}
		return all
	}
	join := func(parts ...[]survey.Stop) (all []survey.Stop) {
		for _, p := range parts {
			all = append(all, p...)
		}
		return all
	}
	var plants []survey.Stop
	for i := 1; i <= 12; i++ {
		for _, letter := range "abcde" {
			plants = append(plants, at(i, fmt.Sprintf("%d%c", i, letter))...)
		}
	}
	for name, c := range map[string]struct {
		stops []survey.Stop
		n     int
	}{
		"plants of stops":              {plants, 0},
		"half of one stop's plants":    {join(plants[:5], at(2, "2a", "2b", "2c")), 0},
		"less than half of them":       {join(plants[:5], at(2, "2a", "2b")), 4},
		"three at one place":           {at(1, "1", "2", "3"), 2},
		"four at one place":            {join(at(1, "1", "2", "3", "4"), at(2, "5"), at(3, "6")), 3},
		"one fix for all":              {at(1, "1a", "1b", "1c", "1d"), 3},
		"a fix kept for each five":     {join(at(1, "1", "2", "3", "4", "5"), at(2, "6", "7", "8", "9", "10")), 8},
		"plants of one stop elsewhere": {join(at(1, "1a", "1b", "1c", "1d"), at(2, "1e", "1f", "1g", "1h")), 6},
	} {
		kept := assess.KeptPlaces(&survey.Survey{}, len(c.stops), func(i int) *survey.Stop { return &c.stops[i] })
		assert.Len(t, kept, c.n, name)
		for then, first := range kept {
			assert.Equal(t, c.stops[first].Longitude, c.stops[then].Longitude, name)
			assert.NotContains(t, kept, first, "who had the place stays")
		}
	}
}
