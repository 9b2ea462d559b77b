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

func rect(x0, y0, x1, y1 float64) orb.Ring {
	return orb.Ring{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}, {x0, y0}}
}

func TestGroundAsPeopleDrawIt(t *testing.T) {
	twice := append(rect(0, 0, 100, 100), rect(1, 1, 99, 99)...)
	pond := append(rect(0, 0, 100, 100), rect(40, 40, 60, 60)...) // walked the same way round, there and back
	for name, c := range map[string]struct {
		drawn orb.MultiPolygon
		want  float64
	}{
		"a pond over the edge":              {orb.MultiPolygon{{rect(0, 0, 100, 100), rect(90, 40, 110, 60)}}, 10000 - 200},
		"a pond outside":                    {orb.MultiPolygon{{rect(0, 0, 100, 100), rect(110, 40, 130, 60)}}, 10000},
		"a pond over the edge, into a part": {orb.MultiPolygon{{rect(0, 0, 100, 100), rect(90, 40, 110, 60)}, {rect(100, 0, 200, 100)}}, 20000 - 400},
		"two ponds that overlap":            {orb.MultiPolygon{{rect(0, 0, 100, 100), rect(20, 20, 60, 60), rect(40, 40, 80, 80)}}, 10000 - 2800},
		"an island":                         {orb.MultiPolygon{{rect(0, 0, 100, 100), rect(20, 20, 80, 80)}, {rect(40, 40, 60, 60)}}, 10000 - 3600 + 400},
		"an island given first":             {orb.MultiPolygon{{rect(40, 40, 60, 60)}, {rect(0, 0, 100, 100), rect(20, 20, 80, 80)}}, 10000 - 3600 + 400},
		"half of a part in a pond":          {orb.MultiPolygon{{rect(0, 0, 100, 100), rect(90, 0, 110, 20)}, {rect(100, 0, 120, 20)}}, 10000 - 200 + 200},
		"more than half":                    {orb.MultiPolygon{{rect(0, 0, 100, 100), rect(90, 0, 111, 20)}, {rect(100, 0, 120, 20)}}, 10000 - 200 + 400},
		"parts that overlap":                {orb.MultiPolygon{{rect(0, 0, 100, 100)}, {rect(50, 0, 150, 100)}}, 15000},
		"walked twice":                      {orb.MultiPolygon{{twice}}, 10000},
		"a pond walked on the way":          {orb.MultiPolygon{{pond}}, 10000 - 400},
		"a loop outside a corner":           {orb.MultiPolygon{{{{0, 0}, {100, 0}, {100, 110}, {110, 110}, {110, 100}, {0, 100}, {0, 0}}}}, 10100},
	} {
		t.Run(name, func(t *testing.T) {
			ground, err := planar.Ground(c.drawn)
			require.NoError(t, err)
			assertValid(t, ground)
			assert.InDelta(t, c.want, geo.Area(ground), 1e-6)
		})
	}
}

// The overlay is another's: union, difference and intersection of simplefeatures,
// and the points of a raster, by even-odd counts ring by ring.
func TestGroundOfRandomPartsAndPonds(t *testing.T) {
	rng := rand.New(rand.NewPCG(12, 13))
	over := 0
	for range 400 {
		parts := randomParts(rng)
		ground, err := planar.Ground(parts)
		require.NoError(t, err)
		assertValid(t, ground)
		island := islands(t, parts)
		want := overlaid(t, parts, island)
		assert.InDelta(t, want.Area(), geo.Area(ground), 1e-6*want.Area()+1e-6)
		if geo.Area(parts) != want.Area() {
			over++
		}
		for range 200 {
			p := orb.Point{rng.Float64()*240 - 20, rng.Float64()*240 - 20}
			assert.Equal(t, inGround(parts, island, p), geo.Contains(ground, p), "%v of %v", p, parts)
		}
	}
	assert.Greater(t, over, 100, "cases in which something crosses")
}

func randomParts(rng *rand.Rand) (parts orb.MultiPolygon) {
	for range 1 + rng.IntN(3) {
		x, y := 60+80*rng.Float64(), 60+80*rng.Float64()
		polygon := orb.Polygon{blob(rng, x, y, 60)}
		for range rng.IntN(3) {
			polygon = append(polygon, blob(rng, x+120*(rng.Float64()-0.5), y+120*(rng.Float64()-0.5), 25))
		}
		parts = append(parts, polygon)
	}
	return parts
}

// blob is a ring that does not cross itself.
func blob(rng *rand.Rand, x, y, radius float64) (ring orb.Ring) {
	n := 3 + rng.IntN(12)
	for i := range n {
		a, r := 2*math.Pi*float64(i)/float64(n), radius*(0.4+0.6*rng.Float64())
		ring = append(ring, orb.Point{x + r*math.Cos(a), y + r*math.Sin(a)})
	}
	if rng.IntN(2) == 0 {
		ring.Reverse()
	}
	return append(ring, ring[0])
}

func other(t *testing.T, rings ...orb.Ring) geom.Geometry {
	var lines []geom.LineString
	for _, r := range rings {
		var flat []float64
		for _, p := range r {
			flat = append(flat, p[0], p[1])
		}
		lines = append(lines, geom.NewLineString(geom.NewSequence(flat, geom.DimXY)))
	}
	return geom.NewPolygon(lines).AsGeometry()
}

// islands tells of each part and each hole of another whether it is one of it.
func islands(t *testing.T, parts orb.MultiPolygon) map[[3]int]bool {
	out := map[[3]int]bool{}
	for k, part := range parts {
		for j, owner := range parts {
			for h := 1; h < len(owner) && j != k; h++ {
				shared, err := geom.Intersection(other(t, part[0]), other(t, owner[h]))
				require.NoError(t, err)
				out[[3]int{k, j, h}] = shared.Area() > other(t, part[0]).Area()/2
			}
		}
	}
	return out
}

func overlaid(t *testing.T, parts orb.MultiPolygon, island map[[3]int]bool) geom.Geometry {
	var all geom.Geometry
	for k, part := range parts {
		g := other(t, part[0])
		var err error
		for j, owner := range parts {
			for h := 1; h < len(owner); h++ {
				if !island[[3]int{k, j, h}] {
					g, err = geom.Difference(g, other(t, owner[h]))
					require.NoError(t, err)
				}
			}
		}
		all, err = geom.Union(all, g)
		require.NoError(t, err)
	}
	return all
}

func inGround(parts orb.MultiPolygon, island map[[3]int]bool, p orb.Point) bool {
	for k, part := range parts {
		in := geo.Contains(orb.MultiPolygon{{part[0]}}, p)
		for j, owner := range parts {
			for h := 1; h < len(owner); h++ {
				in = in && (island[[3]int{k, j, h}] || !geo.Contains(orb.MultiPolygon{{owner[h]}}, p))
			}
		}
		if in {
			return true
		}
	}
	return false
}

func TestGroundOfNothing(t *testing.T) {
	for name, mp := range map[string]orb.MultiPolygon{
		"no polygon": nil,
		"no ring":    {{}},
		"a point":    {{{{1, 1}, {1, 1}, {1, 1}, {1, 1}}}},
		"a line":     {{{{0, 0}, {1, 0}, {2, 0}, {0, 0}}}},
	} {
		t.Run(name, func(t *testing.T) {
			ground, err := planar.Ground(mp)
			require.NoError(t, err)
			assert.Empty(t, ground)
		})
	}
	_, err := planar.Ground(orb.MultiPolygon{{{{0, 0}, {math.NaN(), 0}, {1, 1}, {0, 0}}}})
	assert.ErrorContains(t, err, "finite")
}

func TestTheSameOutlineManyTimes(t *testing.T) {
	many := make(orb.MultiPolygon, 20_000)
	for i := range many {
		many[i] = orb.Polygon{starOf(51)}
	}
	ground, err := planar.Ground(many)
	require.NoError(t, err)
	once, err := planar.Ground(many[:1])
	require.NoError(t, err)
	assert.Equal(t, once, ground)
}
