package planar_test

import (
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
