package fieldstats_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/internal/mapping/fieldstats"
)

// Extra stops in a hot spot raise none of what is said of the field, but the highest; a
// stop is named by its number among all.
func TestSummaryIsOfPlannedStops(t *testing.T) {
	stops := stopsOf(200, 3, 7, 9, 60, 300)
	for i := range stops {
		stops[i].Inside, stops[i].Found = 50, true
	}
	stops[0].Extra, stops[5].Extra = true, true
	stops[1].Found = false
	got, want := fieldstats.Settings{}.Describe(stops, 50), fieldstats.Settings{}.Describe(stops[1:5], 50)
	assert.Equal(t, 300.0, got.Max)
	assert.Equal(t, 4, got.Stops)
	assert.Equal(t, 2, got.Extra)
	assert.Equal(t, 4, got.Strongest.Stop, "of 60")
	assert.Equal(t, 3, want.Strongest.Stop)
	assert.Equal(t, [3]float64{0, 4, 19.75}, [3]float64{float64(got.Edge.EdgeStops), float64(got.Edge.InteriorStops), got.Edge.InteriorMean})
	assert.Equal(t, 0.75, got.Found.Share)
	assert.Equal(t, want.Interval, got.Interval)
	assert.Equal(t, []float64{want.Mean, want.Median, want.Variance, want.Strongest.Without}, []float64{got.Mean, got.Median, got.Variance, got.Strongest.Without})
	for i := range stops {
		stops[i].Extra = true
	}
	all := fieldstats.Settings{}.Describe(stops, 50)
	assert.Equal(t, 96.5, all.Mean, "of all where none was planned")
	assert.Equal(t, 6, all.Edge.InteriorStops)
	assert.Zero(t, all.Extra)
}

func TestEdgeIsOfPlannedStops(t *testing.T) {
	stops := stopsOf(5, 5, 900)
	stops[0].Inside, stops[1].Inside, stops[2].Inside, stops[2].Extra = 50, 4, 50, true
	got := fieldstats.EdgeAgainstInterior(stops)
	assert.Equal(t, fieldstats.Edge{EdgeStops: 1, InteriorStops: 1, EdgeMean: 5, InteriorMean: 5}, got)
}
