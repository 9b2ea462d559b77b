package interp

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// The table's tail is the library's to all its digits but the last few, within it, where it
// ends, and beyond.
func TestNormalTail(t *testing.T) {
	tails := normalTails()
	for i := range 40_000 {
		z := float64(i) / 3001
		want := 0.5 * math.Erfc(z/math.Sqrt2)
		if got := tails.beyond(z); math.Abs(got-want) > 1e-14*want {
			t.Fatalf("z = %g: %g, want %g", z, got, want)
		}
		below, beyond := tails.bothSides(-z)
		assert.Equal(t, [2]float64{tails.beyond(z), 1 - tails.beyond(z)}, [2]float64{below, beyond})
	}
	for _, z := range []float64{0, normalReach, math.Nextafter(normalReach, 0), math.Inf(1), 40} {
		assert.InDelta(t, 0.5*math.Erfc(z/math.Sqrt2), tails.beyond(z), 1e-29, z)
	}
	assert.Equal(t, 0.5, tails.beyond(0))
	assert.True(t, math.IsNaN(tails.beyond(math.NaN())))
}
