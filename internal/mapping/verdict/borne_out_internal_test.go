package verdict

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/internal/mapping/fieldstats"
)

// Looking no farther in x than is near finds what looking at every stop finds: on whole
// metres many stand just as far as near, and some in one place.
func TestHighestNear(t *testing.T) {
	rng := rand.New(rand.NewPCG(15, 16))
	stops := make([]fieldstats.Stop, 150)
	for i := range stops {
		stops[i] = fieldstats.Stop{X: float64(rng.IntN(40)) - 20, Y: float64(rng.IntN(40)), Value: float64(rng.IntN(30))}
	}
	byX := fromWest(stops)
	for _, near := range []float64{0, 1, 5, math.Inf(1), math.NaN()} {
		for at, hot := range stops {
			var want float64
			for i, s := range stops {
				if i != at && math.Hypot(s.X-hot.X, s.Y-hot.Y) <= near {
					want = max(want, s.Value)
				}
			}
			assert.Equal(t, want, highestNear(stops, byX, at, near), "stop %d, near %g", at, near)
		}
	}
}
