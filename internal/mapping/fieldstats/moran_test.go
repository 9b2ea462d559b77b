package fieldstats_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"github.com/geocoris/geocoris/internal/mapping/fieldstats"
	"github.com/geocoris/geocoris/internal/testkit"
)

func TestNeighboursAreAllThatAreNear(t *testing.T) {
	testkit.Property(t, func(t *rapid.T) {
		stops := make([]fieldstats.Stop, rapid.IntRange(0, 30).Draw(t, "stops"))
		for i := range stops {
			stops[i].X, stops[i].Y = float64(rapid.IntRange(0, 9).Draw(t, "x")), float64(rapid.IntRange(0, 9).Draw(t, "y"))
		}
		metres := float64(rapid.IntRange(0, 6).Draw(t, "metres"))
		want := make(fieldstats.Neighbours, len(stops))
		for i, a := range stops {
			for j, b := range stops {
				if i != j && (a.X-b.X)*(a.X-b.X)+(a.Y-b.Y)*(a.Y-b.Y) <= metres*metres {
					want[i] = append(want[i], j)
				}
			}
		}
		assert.Equal(t, want, fieldstats.Within(stops, metres))
	})
}

// Thousands of stops on one place are each other's neighbours: half a million links
// for a thousand of them, and too many beyond.
func TestStopsOnOnePlaceHaveNoEndOfNeighbours(t *testing.T) {
	assert.Len(t, fieldstats.Within(make([]fieldstats.Stop, 1000), 1), 1000)
	assert.Nil(t, fieldstats.Within(make([]fieldstats.Stop, 1001), 1))
	assert.Nil(t, fieldstats.Within(make([]fieldstats.Stop, 100_000), 1))
	d := fieldstats.Settings{Resamples: 10}.Describe(make([]fieldstats.Stop, 100_000), 1)
	assert.Nil(t, d.Moran)
}
