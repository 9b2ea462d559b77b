package geo_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/geo"
)

func TestAnIndexContainsWhatContainsDoes(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	inside := 0
	for range 300 {
		var mp orb.MultiPolygon
		for range rng.IntN(4) {
			var ring orb.Ring
			for range rng.IntN(40) {
				// Whole numbers make level edges and places on edges and vertices.
				ring = append(ring, orb.Point{float64(rng.IntN(12)), float64(rng.IntN(12))})
			}
			mp = append(mp, orb.Polygon{ring})
		}
		index := geo.NewIndex(mp)
		for range 100 {
			p := orb.Point{float64(rng.IntN(28))/2 - 1, float64(rng.IntN(28))/2 - 1}
			want := geo.Contains(mp, p)
			assert.Equal(t, want, index.Contains(p), "%v in %v", p, mp)
			if want {
				inside++
			}
		}
	}
	assert.Greater(t, inside, 3000)
	nan := math.NaN()
	for _, mp := range []orb.MultiPolygon{nil, {}, {{}}, {{{}}}, {{{{1, 1}}}}, {{{{0, 0}, {5, 0}, {0, 0}}}}, {{{{0, 0}, {4, nan}, {4, 4}, {0, 4}}}}} {
		for _, p := range []orb.Point{{1, 1}, {0, 0}, {2, 0}, {9, 9}, {nan, 1}, {1, nan}} {
			assert.Equal(t, geo.Contains(mp, p), geo.NewIndex(mp).Contains(p), "%v in %v", p, mp)
		}
	}
}
