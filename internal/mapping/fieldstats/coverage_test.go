package fieldstats_test

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/mapping/fieldstats"
	"github.com/geocoris/geocoris/internal/scouting/layout"
	"github.com/geocoris/geocoris/internal/testkit"
)

// covered is how often the interval held the mean, and how often it lay above it.
type covered struct{ in, above float64 }

func coverage(kind testkit.Invented, walk string, stops, number int) (c covered) {
	for i := range number {
		rng := rand.New(rand.NewPCG(uint64(i), uint64(stops)))
		f := kind.Make(rng)
		truth := f.Mean(func(v float64) float64 { return v })
		interval := fieldstats.Settings{Resamples: 300}.MeanInterval(meansOfStops(rng, f, testkit.Walks()[walk](rng, stops)))
		switch {
		case truth > interval.High:
			c.above += 1 / float64(number)
		case truth >= interval.Low:
			c.in += 1 / float64(number)
		}
	}
	return c
}

// The interval of 95 % holds the mean of invented fields, an infested edge that no
// stop inside it has seen aside; from a road it does not, so that nothing is said of
// the field there (layout.Layout.Partial). The full form is a table of SIMULATIONS.md:
//
//	go test ./internal/mapping/fieldstats -run TestMeanIntervalCovers -v -timeout 30m -fields 300
func TestMeanIntervalCovers(t *testing.T) {
	number, stops, walks := testkit.Fields(), []int{12, 20, 30, 60}, []string{"random", "grid", "W", "road"}
	if number == 0 {
		number, stops, walks = 12, []int{20}, []string{"random", "grid", "road"}
	}
	for _, walk := range walks {
		all, rows := 0.0, 0.0
		for _, kind := range testkit.InventedFields() {
			line, sum := "", 0.0
			for _, n := range stops {
				c := coverage(kind, walk, n, number)
				line += fmt.Sprintf(" %.2f (%.2f) |", c.in, c.above)
				sum += c.in / float64(len(stops))
			}
			t.Logf("| %s | %s |%s", walk, kind.Name, line)
			if kind.Name != "edge" {
				all, rows = all+sum, rows+1
			}
		}
		if walk == "road" {
			assert.Less(t, all/rows, .85)
		} else {
			assert.GreaterOrEqual(t, all/rows, .93, walk)
		}
	}
}

// meansOfStops are those of ten leaves each, whose counts have k = 1.
func meansOfStops(rng *rand.Rand, f testkit.Density, places [][2]float64) []float64 {
	v := make([]float64, len(places))
	for i, at := range places {
		for _, x := range testkit.LeafCounts(rng, f.At(at), 1, 10) {
			v[i] += x / 10
		}
	}
	return v
}

// Stops that span little of the field have no interval, others keep theirs.
func TestNoIntervalFromAPart(t *testing.T) {
	d := fieldstats.Settings{}.Describe(stopsOf(3, 7, 9, 12), 50)
	require.True(t, d.Interval.Known())
	part := d.Over(layout.Layout{Stops: 4, Share: .5, Span: .59})
	assert.False(t, part.Interval.Known())
	assert.Equal(t, d.Mean, part.Mean)
	assert.True(t, d.Over(layout.Layout{Stops: 4, Share: .5, Span: .6}).Interval.Known(), "more stops along a line never make less of it")
	assert.True(t, d.Over(layout.Lattice{}.Of(nil)).Interval.Known(), "where nothing is known of the ground")
}
