package fieldstats_test

import (
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/mapping/fieldstats"
)

// Rows come in any order, and what is drawn at random does not depend on it.
func TestOrderOfStopsChangesNothing(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 7))
	var stops []fieldstats.Stop
	for i := range 24 {
		stops = append(stops, fieldstats.Stop{X: float64(i % 6 * 40), Y: float64(i / 6 * 40), Value: float64(rng.IntN(60)), Units: 10, Inside: 50, Found: true})
	}
	set := fieldstats.Settings{}
	want := set.Describe(stops, 60)
	require.NotNil(t, want.Moran)
	require.True(t, want.Interval.Known())
	for range 5 {
		shuffled := slices.Clone(stops)
		rng.Shuffle(len(shuffled), func(i, j int) { shuffled[i], shuffled[j] = shuffled[j], shuffled[i] })
		got := set.Describe(shuffled, 60)
		assert.Equal(t, want.Interval, got.Interval)
		assert.Equal(t, want.Moran, got.Moran)
	}
}
