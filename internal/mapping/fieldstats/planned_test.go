package fieldstats_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/internal/mapping/fieldstats"
)

// Extra stops in a hot spot do not raise the field's mean, but are stops all the same.
func TestMeanIsOfPlannedStops(t *testing.T) {
	stops := stopsOf(3, 7, 9, 12, 200, 300)
	stops[4].Extra, stops[5].Extra = true, true
	got, want := fieldstats.Settings{}.Describe(stops, 50), fieldstats.Settings{}.Describe(stops[:4], 50)
	assert.Equal(t, want.Mean, got.Mean)
	assert.Equal(t, want.Interval, got.Interval)
	assert.Equal(t, 300.0, got.Max)
	assert.Equal(t, 6, got.Stops)
	for i := range stops {
		stops[i].Extra = true
	}
	assert.Equal(t, 88.5, fieldstats.Settings{}.Describe(stops, 50).Mean, "of all where none was planned")
}
