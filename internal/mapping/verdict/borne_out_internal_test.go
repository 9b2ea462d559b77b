package verdict

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/internal/geometry/nearby"
	"github.com/geocoris/geocoris/internal/mapping/fieldstats"
)

// Looking at the cells round a stop finds what looking at every stop finds: on whole
// metres many stand just as far as near, and some in one place.
func TestHighestNear(t *testing.T) {
	rng := rand.New(rand.NewPCG(15, 16))
	stops := make([]fieldstats.Stop, 150)
	for i := range stops {
		stops[i] = fieldstats.Stop{X: float64(rng.IntN(40)) - 20, Y: float64(rng.IntN(40)), Value: float64(rng.IntN(30))}
	}
	for _, near := range []float64{0, 1, 5, math.Inf(1), math.NaN()} {
		cells := nearby.Of(positions(stops), near)
		for at, hot := range stops {
			var want float64
			for i, s := range stops {
				if i != at && math.Hypot(s.X-hot.X, s.Y-hot.Y) <= near {
					want = max(want, s.Value)
				}
			}
			assert.Equal(t, want, highestNear(stops, cells, at, near), "stop %d, near %g", at, near)
		}
	}
}

// Cells find the places that holding each extra stop against every planned one does: on whole
// metres two are often as near, and some are just twice as far.
func TestPlacesAreThoseOfEveryPair(t *testing.T) {
	rng := rand.New(rand.NewPCG(17, 18))
	const level = 20
	for range 40 {
		stops := make([]fieldstats.Stop, 1+rng.IntN(80))
		for i := range stops {
			stops[i] = fieldstats.Stop{X: float64(rng.IntN(12)), Y: float64(rng.IntN(12)), Value: float64(rng.IntN(30)), Extra: i > 0 && rng.IntN(2) == 0}
		}
		want := map[int]int{} // of extra stops, their planned one
		for i, s := range stops {
			if !s.Extra {
				continue
			}
			nearest, least, hot, leastHot := 0, math.Inf(1), 0, math.Inf(1)
			for k, p := range stops {
				if d := apart(p, s); !p.Extra && d < least {
					nearest, least = k, d
				}
				if d := apart(p, s); !p.Extra && p.Value >= level && d < leastHot {
					hot, leastHot = k, d
				}
			}
			if want[i] = nearest; leastHot <= asFar*least {
				want[i] = hot
			}
		}
		got := map[int]int{}
		for _, p := range placesOf(stops, level) {
			for _, i := range p[1:] {
				got[i] = p[0]
			}
		}
		assert.Equal(t, want, got)
	}
}
