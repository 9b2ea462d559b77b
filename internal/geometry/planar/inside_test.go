package planar_test

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/geometry/planar"
	"github.com/geocoris/geocoris/internal/testkit"
)

// The half of the shell's height is that of the hole's lowest vertex, which is in
// the middle besides.
func TestInsidePointKeepsOffAVertexOfAHole(t *testing.T) {
	hole := orb.Ring{{0, 1}, {1, 2}, {0, 1.5}, {-1, 2}, {0, 1}}
	p := planar.InsidePoint(orb.Polygon{{{-3, 0}, {3, 0}, {3, 2}, {0, 2.5}, {-3, 2}, {-3, 0}}, hole})
	assert.Greater(t, geo.DistanceToEdge(orb.MultiPolygon{{hole}}, p), 0.1, "%v", p)
}

// A tip a picometre wide, and longer than the rest of the face.
func TestInsidePointKeepsOutOfATip(t *testing.T) {
	face := orb.Polygon{{{0, 0}, {1, 0}, {0.5, 1}, {1e-12, 1}, {0, 100}, {0, 0}}}
	p := planar.InsidePoint(face)
	assert.Less(t, p[1], 1.0)
	assert.Greater(t, geo.DistanceToEdge(orb.MultiPolygon{face}, p), 0.1)
}

func TestInsidePointIsOffTheBorder(t *testing.T) {
	testkit.Hundreds(t, 5, func(t *rapid.T) {
		turn := rapid.SampledFrom([]float64{0, 0.1}).Draw(t, "turn")
		ring := func(r float64) orb.Ring {
			var ring orb.Ring
			n := rapid.IntRange(3, 12).Draw(t, "vertices")
			for i := range n {
				a := 2*math.Pi*float64(i)/float64(n) + turn
				ring = append(ring, orb.Point{math.Round(r * math.Cos(a)), math.Round(r * math.Sin(a))})
			}
			return append(ring, ring[0])
		}
		face := orb.Polygon{ring(100), ring(20)}
		p := planar.InsidePoint(face)
		require.True(t, geo.Contains(orb.MultiPolygon{face}, p))
		require.Greater(t, geo.DistanceToEdge(orb.MultiPolygon{face}, p), 0.01, "%v", p)
	})
}
