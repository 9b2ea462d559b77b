package geo_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/geo"
)

// The nearest edge is the one that looking at all finds, to the bit: near and far, on edges
// and corners, of slim, tiny and far-off polygons, with holes and parts.
func TestAnEdgeIndexIsAsFarAsLookingAtAll(t *testing.T) {
	rng := rand.New(rand.NewPCG(9, 10))
	for _, size := range [][2]float64{{1000, 1000}, {1000, 1}, {1, 1000}, {1e-6, 1e-6}, {12, 12}} {
		var mp orb.MultiPolygon
		for part := range 3 {
			var ring, hole orb.Ring
			for i := range 130 {
				sin, cos := math.Sincos(2 * math.Pi * float64(i) / 130)
				r := 0.5 + 0.5*rng.Float64()
				x, y := float64(3e6*float64(part%2))+float64(size[0]*r*cos), float64(size[1]*r*sin)
				if size[0] == 12 { // many as near
					x, y = math.Round(x), math.Round(y)
				}
				ring, hole = append(ring, orb.Point{x, y}), append(hole, orb.Point{x / 3, y / 3})
			}
			mp = append(mp, orb.Polygon{ring, hole})
		}
		index := geo.NewEdgeIndex(mp)
		for range 150 {
			for _, p := range []orb.Point{
				{3 * size[0] * (rng.Float64() - 0.5), 3 * size[1] * (rng.Float64() - 0.5)},
				{3e6 + float64(rng.IntN(24)) - 12, float64(rng.IntN(24)) - 12}, mp[rng.IntN(3)][0][rng.IntN(130)], {rng.Float64() * 1e12, -rng.Float64() * 1e12},
			} {
				assert.Equal(t, geo.DistanceToEdge(mp, p), index.Distance(p), "%v", p)
			}
		}
	}
	nan := math.NaN()
	for _, mp := range []orb.MultiPolygon{nil, {}, {{}}, {{{}}}, {{{{1, 1}}}}, {{{{0, 0}, {5, 0}, {0, 0}}}}, {{{{0, 0}, {4, nan}, {4, 4}, {0, 4}}}}} {
		for _, p := range []orb.Point{{1, 1}, {0, 0}, {9, 9}, {nan, 1}, {1, nan}} {
			assert.Equal(t, math.Float64bits(geo.DistanceToEdge(mp, p)), math.Float64bits(geo.NewEdgeIndex(mp).Distance(p)), "%v to %v", p, mp)
		}
	}
}
