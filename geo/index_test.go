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

func TestAPolygonIndexFindsWhatContainsDoes(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 8))
	several := 0
	for range 200 {
		var polygons []orb.Polygon
		for range rng.IntN(12) {
			var polygon orb.Polygon
			for range rng.IntN(3) {
				var ring orb.Ring
				for range rng.IntN(12) {
					ring = append(ring, orb.Point{float64(rng.IntN(12)), float64(rng.IntN(12))})
				}
				polygon = append(polygon, ring)
			}
			polygons = append(polygons, polygon)
		}
		index := geo.NewPolygonIndex(polygons)
		for range 100 {
			p := orb.Point{float64(rng.IntN(28))/2 - 1, float64(rng.IntN(28))/2 - 1}
			var want []int
			for i, polygon := range polygons {
				if geo.Contains(orb.MultiPolygon{polygon}, p) {
					want = append(want, i)
				}
			}
			assert.Equal(t, want, index.Containing(p), "%v in %v", p, polygons)
			if len(want) > 1 {
				several++
			}
		}
	}
	assert.Greater(t, several, 1500)
	nan := math.NaN()
	for _, polygons := range [][]orb.Polygon{nil, {nil}, {{{}}}, {{{{1, 1}}}}, {{{{0, 0}, {4, nan}, {4, 4}, {0, 4}}}, {{{0, 0}, {9, 0}, {0, 9}}}}} {
		index := geo.NewPolygonIndex(polygons)
		for _, p := range []orb.Point{{1, 1}, {0, 0}, {2, 0}, {9, 9}, {nan, 1}, {1, nan}} {
			var want []int
			for i, polygon := range polygons {
				if geo.Contains(orb.MultiPolygon{polygon}, p) {
					want = append(want, i)
				}
			}
			assert.Equal(t, want, index.Containing(p), "%v in %v", p, polygons)
		}
	}
}

// Off all borders Odd is what Contains is; on an edge that goes there and back, and bounds
// nothing, it is what the ground around is.
func TestAnEdgeThereAndBackBoundsNothing(t *testing.T) {
	square := orb.Ring{{0, 0}, {10, 0}, {10, 10}, {0, 10}, {0, 0}}
	for name, spike := range map[string]orb.Ring{
		"upright":              {{5, -5}, {5, 5}, {5, -5}},
		"level":                {{-5, 5}, {5, 5}, {-5, 5}},
		"slanting":             {{-5, -5}, {6, 6}, {-5, -5}},
		"back in two steps":    {{5, 20}, {5, 2}, {5, 5}, {5, 20}},
		"through and out":      {{5, -5}, {5, 20}, {5, -5}},
		"there and back twice": {{5, -5}, {5, 5}, {5, -5}, {5, 5}, {5, -5}},
	} {
		with := geo.NewIndex(orb.MultiPolygon{{square, spike}})
		for _, p := range []orb.Point{{5, 5}, {5, 3}, {3, 5}, {3, 3}} {
			assert.True(t, with.Odd(p), "%s %v", name, p)
		}
		for _, p := range []orb.Point{{5, -2}, {-2, 5}, {-2, -2}, {5, 15}, {-5, -5}} {
			assert.False(t, with.Odd(p), "%s %v", name, p)
		}
	}
	rng := rand.New(rand.NewPCG(7, 8))
	for range 200 {
		var ring orb.Ring
		for range 3 + rng.IntN(20) {
			ring = append(ring, orb.Point{float64(rng.IntN(12)), float64(rng.IntN(12))})
		}
		mp := orb.MultiPolygon{{append(ring, ring[0])}}
		for range 50 {
			p := orb.Point{12 * rng.Float64(), 12 * rng.Float64()}
			assert.Equal(t, geo.Contains(mp, p), geo.NewIndex(mp).Odd(p))
		}
	}
}
