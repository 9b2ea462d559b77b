package planar_test

import (
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/geometry/planar"
	"github.com/geocoris/geocoris/internal/testkit"
)

func TestHullByHand(t *testing.T) {
	assert.Empty(t, planar.Hull(nil))
	assert.Equal(t, orb.Ring{{1, 2}}, planar.Hull([]orb.Point{{1, 2}, {1, 2}}))
	assert.Equal(t, orb.Ring{{0, 0}, {4, 4}, {0, 0}}, planar.Hull([]orb.Point{{4, 4}, {0, 0}, {1, 1}}))
	assert.Equal(t, orb.Ring{{0, 0}, {2, 0}, {2, 2}, {0, 2}, {0, 0}},
		planar.Hull([]orb.Point{{2, 2}, {1, 1}, {0, 2}, {2, 0}, {1, 0}, {0, 0}, {2, 1}}))
}

func TestHullHoldsAllPointsAndTurnsLeft(t *testing.T) {
	testkit.Property(t, func(t *rapid.T) {
		point := rapid.Custom(func(t *rapid.T) orb.Point {
			return orb.Point{float64(rapid.IntRange(-9, 9).Draw(t, "x")), float64(rapid.IntRange(-9, 9).Draw(t, "y"))}
		})
		points := rapid.SliceOfN(point, 3, 30).Draw(t, "points")
		hull := planar.Hull(points)
		if geo.Area(orb.MultiPolygon{{hull}}) == 0 {
			return
		}
		for _, p := range points {
			require.True(t, geo.Contains(orb.MultiPolygon{{hull}}, p), "%v", p)
		}
		for i := 2; i < len(hull); i++ {
			a, b, c := hull[i-2], hull[i-1], hull[i]
			require.Positive(t, (b[0]-a[0])*(c[1]-a[1])-(b[1]-a[1])*(c[0]-a[0]))
		}
	})
}

// Of many points most are left out before they are sorted: the hull is that of the hulls of
// few of them.
func TestTheHullOfManyIsThatOfTheHullsOfFew(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for _, shape := range []func() orb.Point{
		func() orb.Point { return orb.Point{rng.NormFloat64(), rng.NormFloat64()} },
		func() orb.Point { return orb.Point{float64(rng.IntN(30)), float64(rng.IntN(20))} },
		func() orb.Point { x := rng.Float64(); return orb.Point{x, x + rng.Float64()/100} },
		func() orb.Point { return orb.Point{5, rng.Float64()} },
		func() orb.Point { return orb.Point{1, 1} },
	} {
		var all, few []orb.Point
		for range 40 {
			var some []orb.Point
			for range 50 {
				some = append(some, shape())
			}
			all, few = append(all, some...), append(few, planar.Hull(some)...)
		}
		for range 20 { // too few still to be left out
			few = planar.Hull(few)
		}
		require.Less(t, len(few), 200)
		assert.Equal(t, planar.Hull(few), planar.Hull(all))
	}
}
