package planar_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"
	"github.com/peterstace/simplefeatures/geom"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/geometry/planar"
)

func asMulti(g orb.Geometry) orb.MultiPolygon {
	if p, ok := g.(orb.Polygon); ok {
		return orb.MultiPolygon{p}
	}
	return g.(orb.MultiPolygon)
}

// assertValid asks the geometry library that the noding also comes from: its
// validity check shares no code with it.
func assertValid(t require.TestingT, mp orb.MultiPolygon) {
	var polys []geom.Polygon
	for _, p := range mp {
		var rings []geom.LineString
		for i, r := range p {
			var flat []float64
			for _, q := range r {
				flat = append(flat, q[0], q[1])
			}
			rings = append(rings, geom.NewLineString(geom.NewSequence(flat, geom.DimXY)))
			want := orb.CCW
			if i > 0 {
				want = orb.CW
			}
			assert.Equal(t, want, r.Orientation(), "ring %d", i)
		}
		polys = append(polys, geom.NewPolygon(rings))
	}
	require.NoError(t, geom.NewMultiPolygon(polys).Validate())
}

func TestRepairOfRandomSelfCrossingRings(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for range 300 {
		ring := make(orb.Ring, 0, 31)
		for range 30 {
			// Whole numbers make exact ties: points on edges, doubled edges.
			ring = append(ring, orb.Point{float64(rng.IntN(20)), float64(rng.IntN(20))})
		}
		ring = append(ring, ring[0])
		repaired, err := planar.Repair(orb.MultiPolygon{{ring}})
		require.NoError(t, err)
		assertValid(t, repaired)
		assert.InDelta(t, scanArea(ring), geo.Area(repaired), 0.02)
	}
}

// scanArea sums the even-odd length of many level lines. Between two lines that
// hold all vertices and crossings of a lattice polygon the length is linear, so
// fine steps come close to the truth.
func scanArea(ring orb.Ring) float64 {
	const steps = 4000
	var sum float64
	for k := range steps {
		y := (float64(k) + 0.5) * 20 / steps
		for _, span := range geo.InsideSpans(orb.MultiPolygon{{ring}}, y) {
			sum += (span.To - span.From) * 20 / steps
		}
	}
	return sum
}

func TestRepairOfNothing(t *testing.T) {
	for name, mp := range map[string]orb.MultiPolygon{
		"no polygon": nil,
		"no ring":    {{}},
		"a point":    {{{{1, 1}, {1, 1}, {1, 1}, {1, 1}}}},
		"a line":     {{{{0, 0}, {1, 0}, {2, 0}, {0, 0}}}},
	} {
		t.Run(name, func(t *testing.T) {
			repaired, err := planar.Repair(mp)
			require.NoError(t, err)
			assert.Empty(t, repaired)
		})
	}
	_, err := planar.Repair(orb.MultiPolygon{{{{0, 0}, {math.NaN(), 0}, {1, 1}, {0, 0}}}})
	assert.ErrorContains(t, err, "finite")
}
