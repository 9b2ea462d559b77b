package assess

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
)

// crowdsByDefinition looks at every pair.
func crowdsByDefinition(stops []Stop, reach float64) []int {
	of := make([]int, len(stops))
	for i, s := range stops {
		of[i] = i
		least := reach
		for k, p := range stops {
			if d := math.Hypot(p.XY[0]-s.XY[0], p.XY[1]-s.XY[1]); s.Extra && !p.Extra && d <= least {
				of[i], least = k, d
			}
		}
	}
	return of
}

// Extra stops go to the planned one that looking at every pair finds: on whole metres many
// are as near, or as far as reach.
func TestCrowdsAreThoseOfTheNearest(t *testing.T) {
	rng := rand.New(rand.NewPCG(11, 12))
	moved := 0
	for _, extra := range []float64{0, 0.3, 0.9, 1} {
		for _, reach := range []float64{0, 1, 5, 13, math.Inf(1)} {
			stops := make([]Stop, 120)
			for i := range stops {
				stops[i].XY = orb.Point{float64(rng.IntN(60)) - 30, float64(rng.IntN(60))}
				stops[i].Extra = rng.Float64() < extra
			}
			want := crowdsByDefinition(stops, reach)
			assert.Equal(t, want, crowds(stops, reach), "%g extra, reach %g", extra, reach)
			for i, at := range want {
				if at != i {
					moved++
				}
			}
		}
	}
	assert.Greater(t, moved, 100)
}

// A hundred thousand stops, ten thousand of them extra, are for one look along a line.
func BenchmarkCrowds(b *testing.B) {
	rng := rand.New(rand.NewPCG(13, 14))
	stops := make([]Stop, 100_000)
	for i := range stops {
		stops[i].XY = orb.Point{20_000 * rng.Float64(), 20_000 * rng.Float64()}
		stops[i].Extra = i%10 == 0
	}
	for b.Loop() {
		crowds(stops, 30)
	}
}
