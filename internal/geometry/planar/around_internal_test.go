package planar

import (
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
)

// Few who ask are told the same shells as many, also on a shell's line.
func TestShellsAroundForFewAndMany(t *testing.T) {
	rng, box := rand.New(rand.NewPCG(2, 4)), func(x, y, side float64) orb.Ring {
		return orb.Ring{{x, y}, {x + side, y}, {x + side, y + side}, {x, y + side}, {x, y}}
	}
	var shells []loop
	for range 20 {
		ring := box(float64(rng.IntN(20)), float64(rng.IntN(20)), float64(1+rng.IntN(12)))
		shells = append(shells, loop{ring: ring, area: signedArea(ring), bound: ring.Bound()})
	}
	few, many := aroundFor(shells, fewAsked), aroundFor(shells, fewAsked+1)
	found := 0
	for range 400 {
		p := orb.Point{float64(rng.IntN(60)) / 2, float64(rng.IntN(60)) / 2}
		within := orb.Bound{Min: p, Max: orb.Point{p[0] + rng.Float64(), p[1] + 3*rng.Float64()}}
		var want []int
		for _, i := range many(p, within) {
			if contains(shells[i].bound, within) {
				want = append(want, i)
			}
		}
		found += len(want)
		assert.Equal(t, want, few(p, within), "at %v", p)
	}
	assert.Greater(t, found, 100)
}
