package fieldstats_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/internal/mapping/fieldstats"
	"github.com/geocoris/geocoris/internal/testkit"
)

// One of one, by hand: a beta distribution with 3/2 and 1/2 has the distribution
// function (2/π)·(asin √x − √(x(1 − x))); and k against n − k mirrors.
func TestJeffreys(t *testing.T) {
	i := fieldstats.Jeffreys(1, 1, .9)
	assert.Equal(t, 1.0, i.High)
	assert.InDelta(t, .05, 2/math.Pi*(math.Asin(math.Sqrt(i.Low))-math.Sqrt(i.Low*(1-i.Low))), 1e-9)
	a, b := fieldstats.Jeffreys(3, 20, .9), fieldstats.Jeffreys(17, 20, .9)
	assert.InDelta(t, a.Low, 1-b.High, 1e-9)
	assert.InDelta(t, a.High, 1-b.Low, 1e-9)
	assert.True(t, a.Low < .15 && .15 < a.High)
	assert.Zero(t, fieldstats.Jeffreys(0, 20, .9).Low)
	for _, bad := range [][2]float64{{0, 0}, {-1, 5}, {6, 5}, {math.NaN(), 5}} {
		assert.False(t, fieldstats.Jeffreys(bad[0], bad[1], .9).Known())
	}
}

func TestAreaOverReachesTheModel(t *testing.T) {
	plain := fieldstats.AreaOver(3, 20, 50, math.NaN(), .9)
	assert.Equal(t, fieldstats.Jeffreys(3, 20, .9).High*50, plain.High)
	assert.Equal(t, plain, fieldstats.AreaOver(3, 20, 50, 7, .9), "a model within it changes nothing")
	assert.Equal(t, 30.0, fieldstats.AreaOver(3, 20, 50, 30, .9).High)
	assert.Equal(t, 1.0, fieldstats.AreaOver(3, 20, 50, 1, .9).Low)
	assert.Equal(t, plain, fieldstats.AreaOver(3, 20, 50, 51, .9), "no more than the field")
	assert.False(t, fieldstats.AreaOver(0, 0, 50, 7, .9).Known())
}

// At 90 % asked it holds the area over 40 on invented fields walked at random.
func TestAreaOverCovers(t *testing.T) {
	number := max(testkit.Fields(), testkit.Few(40, 15))
	var all, rows float64
	for _, kind := range testkit.InventedFields() {
		for _, walk := range []string{"random", "grid"} {
			in := 0.0
			for i := range number {
				rng := rand.New(rand.NewPCG(uint64(i), 9))
				f := kind.Make(rng)
				truth := f.Mean(func(v float64) float64 {
					if v >= 40 {
						return 1
					}
					return 0
				})
				over := 0
				for _, m := range meansOfStops(rng, f, testkit.Walks()[walk](rng, 30)) {
					if m >= 40 {
						over++
					}
				}
				if a := fieldstats.AreaOver(over, 30, 1, math.NaN(), .9); a.Low <= truth && truth <= a.High {
					in += 1 / float64(number)
				}
			}
			t.Logf("| %s | %s | %.2f |", kind.Name, walk, in)
			all, rows = all+in, rows+1
		}
	}
	assert.InDelta(t, .9, all/rows, .06)
}
