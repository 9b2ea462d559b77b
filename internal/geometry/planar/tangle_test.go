package planar_test

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/geometry/planar"
)

// starOf is a ring of n points, each side of which crosses nearly all others.
func starOf(n int) orb.Ring {
	var ring orb.Ring
	for i := range n {
		a := 2 * math.Pi * float64(i*(n/2)%n) / float64(n)
		ring = append(ring, orb.Point{500 * math.Cos(a), 500 * math.Sin(a)})
	}
	return append(ring, ring[0])
}

func TestATangleIsRefused(t *testing.T) {
	// n sides of a star cross n·(n−3)/2 times.
	for _, fill := range []func(orb.MultiPolygon) (orb.MultiPolygon, error){planar.Repair, planar.Ground} {
		_, err := fill(orb.MultiPolygon{{starOf(143)}})
		require.ErrorContains(t, err, "crosses itself more than 10000 times")
		ground, err := fill(orb.MultiPolygon{{starOf(141)}})
		require.NoError(t, err)
		assert.NotEmpty(t, ground)
	}
}
