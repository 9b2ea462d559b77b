package planar

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
)

// Places have the numbers that a map of them gives: on a lattice, very far and very near,
// as many as there may be, none and one.
func TestPlacesAreNumberedAsByAMap(t *testing.T) {
	rng := rand.New(rand.NewPCG(31, 32))
	for _, step := range []float64{1, 0x1p-30, 0x1p40, 1e-300} {
		for _, n := range []int{0, 1, 2, 3, 1000} {
			numbers, known := newNumbering(n), map[orb.Point]int{}
			for range n {
				p := orb.Point{float64(rng.IntN(50)-25) * step, float64(rng.IntN(50)-25) * step}
				if _, is := known[p]; !is {
					known[p] = len(known)
				}
				assert.Equal(t, known[p], numbers.of(p))
			}
			assert.Len(t, numbers.at, len(known))
		}
	}
	numbers := newNumbering(4)
	minus := math.Copysign(0, -1)
	for _, p := range []orb.Point{{0, 0}, {minus, 0}, {0, minus}, {minus, minus}} {
		assert.Zero(t, numbers.of(p))
	}
}
