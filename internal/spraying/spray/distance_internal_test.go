package spray

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
)

// The least distance is that over all pairs of sides, though most are passed over, and how
// many are looked at grows as the points do.
func TestTheLeastDistanceIsOfAllPairs(t *testing.T) {
	random := rand.New(rand.NewPCG(9, 0))
	rough := func(n int, x, y, r float64) orb.MultiPolygon {
		var ring orb.Ring
		for k := range n {
			a, d := 2*math.Pi*float64(k)/float64(n), r+0.03*random.NormFloat64()
			ring = append(ring, orb.Point{x + d*math.Cos(a), y + d*math.Sin(a)})
		}
		return orb.MultiPolygon{{append(ring, ring[0])}}
	}
	for range 20 {
		a, b := rough(150, 0, 0, 100), rough(200, 210+300*random.Float64(), 300*random.Float64(), 100)
		want := math.Inf(1)
		for _, s := range sides(a) {
			for _, p := range s {
				want = min(want, geo.DistanceToEdge(b, p))
			}
		}
		for _, e := range sides(b) {
			want = min(want, geo.DistanceToEdge(a, e[0]))
		}
		require.InDelta(t, want, Distance(a[0], b), 1e-9)
	}
	assert.Zero(t, Distance(rough(50, 0, 0, 100)[0], rough(50, 150, 0, 100)), "they cross")
	assert.InDelta(t, 5, Distance(orb.Point{0, 105}, orb.MultiPolygon{{{{-10, 90}, {10, 90}, {10, 100}, {-10, 100}, {-10, 90}}}}), 1e-12)
	assert.True(t, math.IsInf(Distance(orb.Point{}, nil), 1))
}
