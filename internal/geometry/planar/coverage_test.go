package planar_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/geometry/planar"
)

func box(x0, y0, x1, y1 float64) orb.MultiPolygon {
	return orb.MultiPolygon{{{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}, {x0, y0}}}}
}

func star(rng *rand.Rand, x, y, r float64) orb.MultiPolygon {
	n := 5 + rng.IntN(40)
	ring := make(orb.Ring, 0, n+1)
	for i := range n {
		a, d := 2*math.Pi*float64(i)/float64(n), r*(0.3+0.7*rng.Float64())
		ring = append(ring, orb.Point{x + d*math.Cos(a), y + d*math.Sin(a)})
	}
	return orb.MultiPolygon{{append(ring, ring[0])}}
}

// three labels every face by which of two overlapping grounds it lies in.
func three(t require.TestingT, a, b orb.MultiPolygon) *planar.Coverage {
	arr, err := planar.Arrange(planar.RingLines(a, b))
	require.NoError(t, err)
	require.NoError(t, arr.Check(a, geo.NewIndex(a), geo.Area(a)))
	require.NoError(t, arr.Check(b, geo.NewIndex(b), geo.Area(b)))
	labels := make([]int, len(arr.Faces))
	for i, f := range arr.Faces {
		switch inA, inB := geo.Contains(a, f.Point), geo.Contains(b, f.Point); {
		case inA && inB:
			labels[i] = 3
		case inA:
			labels[i] = 1
		case inB:
			labels[i] = 2
		}
	}
	return arr.Dissolve(labels)
}

func TestDissolveTilesTheGround(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	for range 200 {
		a, b := star(rng, 0, 0, 100), star(rng, 60*rng.Float64(), 60*rng.Float64(), 80)
		c := three(t, a, b)
		both := c.Area(3)
		assert.InEpsilon(t, geo.Area(a), c.Area(1)+both, 1e-11)
		assert.InEpsilon(t, geo.Area(b), c.Area(2)+both, 1e-11)
		for label := 1; label <= 3; label++ {
			assertValid(t, c.Polygons(label))
		}
	}
}

func TestCheckFindsCrossingsThatWereNotNoded(t *testing.T) {
	a := box(0, 0, 2, 2)
	arr, err := planar.Arrange(planar.RingLines(a, box(1, 1, 3, 3)))
	require.NoError(t, err)
	assert.NoError(t, arr.Check(a, geo.NewIndex(a), 4))
	assert.Error(t, arr.Check(a, geo.NewIndex(a), 4.001))
}

func TestNeighborsShareABorderNotAPoint(t *testing.T) {
	// Two boxes side by side and a third that touches the second in a corner.
	arr, err := planar.Arrange(planar.RingLines(box(0, 0, 1, 1), box(1, 0, 2, 1), box(2, 1, 3, 2)))
	require.NoError(t, err)
	require.Len(t, arr.Faces, 3)
	for _, f := range arr.Faces {
		inner := 0
		for _, n := range f.Neighbors {
			if n != planar.Outside {
				inner++
			}
		}
		want := 1
		if f.Point[0] > 2 {
			want = 0
		}
		assert.Equal(t, want, inner, "face at %v", f.Point)
		assert.Contains(t, f.Neighbors, planar.Outside)
	}
}

func TestPolygonsSplitWhereAHoleTouchesItsShell(t *testing.T) {
	shell, hole := box(0, 0, 4, 4), orb.MultiPolygon{{{{0, 2}, {1, 1}, {2, 2}, {1, 3}, {0, 2}}}}
	arr, err := planar.Arrange(planar.RingLines(shell, hole))
	require.NoError(t, err)
	labels := make([]int, len(arr.Faces))
	for i, f := range arr.Faces {
		if !geo.Contains(hole, f.Point) {
			labels[i] = 1
		}
	}
	mp := arr.Dissolve(labels).Polygons(1)
	require.Len(t, mp, 1)
	assert.Len(t, mp[0], 2, "outer ring and hole")
	assert.InDelta(t, 16-2, geo.Area(mp), 1e-12)
	assertValid(t, mp)
}

func TestSimplifyKeepsTheRimAndTheSum(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 8))
	for range 100 {
		a, b := star(rng, 0, 0, 100), star(rng, 30, 0, 60)
		c := three(t, a, b)
		s := c.Simplify(2)
		assert.InEpsilon(t, c.Area(1)+c.Area(2)+c.Area(3), s.Area(1)+s.Area(2)+s.Area(3), 1e-9)
		assert.LessOrEqual(t, vertices(s.Polygons(3)), vertices(c.Polygons(3)))
	}
}

func vertices(mp orb.MultiPolygon) int {
	n := 0
	for _, p := range mp {
		for _, r := range p {
			n += len(r)
		}
	}
	return n
}

// A coarse lattice makes lines collapse and cross; what comes out must still be
// noded, valid, without overlap, and on the lattice.
func TestSnapStaysACoverage(t *testing.T) {
	rng := rand.New(rand.NewPCG(9, 10))
	for _, step := range []float64{0.01, 0.5, 3} {
		for range 150 {
			a, b := star(rng, 0, 0, 40), star(rng, 20, 5, 30)
			c := three(t, a, b).Simplify(rng.Float64())
			s := c.Snap(func(p orb.Point) orb.Point { return orb.Point{p[0] / step, p[1] / step} })
			var lines orb.MultiPolygon
			var sum float64
			for label := 1; label <= 3; label++ {
				mp := s.Polygons(label)
				assertValid(t, mp)
				sum += geo.Area(mp)
				lines = append(lines, mp...)
				for _, p := range mp {
					for _, r := range p {
						for _, q := range r {
							require.Equal(t, orb.Point{math.Round(q[0]), math.Round(q[1])}, q)
						}
					}
				}
			}
			// The union of the three, found anew, has the area of their sum.
			arr, err := planar.Arrange(planar.RingLines(lines))
			require.NoError(t, err)
			var union float64
			for _, f := range arr.Faces {
				if insideAny(lines, f.Point) {
					union += f.Area
				}
			}
			assert.InDelta(t, sum, union, 1e-6, "areas overlap")
			if step == 0.01 {
				assert.InDelta(t, c.Area(1)+c.Area(2)+c.Area(3), sum*step*step, 1)
			}
		}
	}
}

func insideAny(mp orb.MultiPolygon, p orb.Point) bool {
	for _, polygon := range mp {
		if geo.Contains(orb.MultiPolygon{polygon}, p) {
			return true
		}
	}
	return false
}

func TestGrowAgainstFormulas(t *testing.T) {
	d := 5.0
	square := box(0, 0, 100, 60)
	grown, err := planar.Grow(square, d)
	require.NoError(t, err)
	// Steiner: area + perimeter·d + π·d² for a convex figure.
	assert.InEpsilon(t, 6000+320*d+math.Pi*d*d, geo.Area(grown), 2e-5)
	assertValid(t, grown)

	ring := box(0, 0, 100, 100)
	ring[0] = append(ring[0], orb.Ring{{40, 40}, {40, 60}, {60, 60}, {60, 40}, {40, 40}})
	grown, err = planar.Grow(ring, d)
	require.NoError(t, err)
	assert.InEpsilon(t, 10000+400*d+math.Pi*d*d-10*10, geo.Area(grown), 2e-5, "a hole shrinks")
	grown, err = planar.Grow(ring, 10.5)
	require.NoError(t, err)
	assert.Len(t, grown[0], 1, "a hole narrower than twice the margin closes")

	same, err := planar.Grow(square, 0)
	require.NoError(t, err)
	assert.Equal(t, square, same)
}

func TestGrowIsTheGroundWithinTheDistance(t *testing.T) {
	rng := rand.New(rand.NewPCG(11, 12))
	for range 60 {
		mp, err := planar.Repair(append(star(rng, 0, 0, 40), star(rng, 90, 0, 30)...))
		require.NoError(t, err)
		d := 1 + 20*rng.Float64()
		grown, err := planar.Grow(mp, d)
		require.NoError(t, err)
		assertValid(t, grown)
		for range 200 {
			p := orb.Point{-70 + 220*rng.Float64(), -70 + 140*rng.Float64()}
			away := geo.DistanceToEdge(mp, p)
			switch in := geo.Contains(mp, p) || away <= d*0.998; {
			case in:
				assert.True(t, geo.Contains(grown, p), "%v is %g m away, margin %g", p, away, d)
			case away > d*1.001:
				assert.False(t, geo.Contains(grown, p), "%v is %g m away, margin %g", p, away, d)
			}
		}
	}
}
