package planar

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
)

// walked is a round outline of 400 m as a receiver draws it: each point off by some cm.
func walked(n int, radius, off float64) orb.Ring {
	random := rand.New(rand.NewPCG(uint64(n), 1))
	var ring orb.Ring
	for k := range n {
		a, d := 2*math.Pi*float64(k)/float64(n), radius+off*random.NormFloat64()
		ring = append(ring, orb.Point{d * math.Cos(a), d * math.Sin(a)})
	}
	return append(ring, ring[0])
}

// grownWhole grows with all of the moved rings, and compares each face with all edges.
func grownWhole(t *testing.T, mp orb.MultiPolygon, d float64) orb.MultiPolygon {
	t.Helper()
	mp = geo.Wind(mp)
	lines := RingLines(mp)
	for _, polygon := range mp {
		for _, ring := range polygon {
			lines = append(lines, offset(ring, d))
		}
	}
	a, err := Arrange(lines)
	require.NoError(t, err)
	labels := make([]int, len(a.Faces))
	for i, face := range a.Faces {
		if geo.Contains(mp, face.Point) || geo.DistanceToEdge(mp, face.Point) <= d {
			labels[i] = 1
		}
	}
	return a.Dissolve(labels).Polygons(1)
}

// What is left out before the plane is cut changes no bit of the grown ground.
func TestGrownGroundIsThatOfTheWholeRings(t *testing.T) {
	for n := 40; n <= 300; n += 65 {
		pond := walked(n/2, 30, 0.8)
		mp := orb.MultiPolygon{{walked(n, 100, 0.5), pond}, {orb.Ring{{130, 0}, {150, 10}, {150, 90}, {131, 80}, {130, 0}}}}
		if Valid(mp) != nil {
			continue
		}
		for _, d := range []float64{0.02, 0.3, 4.9, 17, 60} {
			grown, err := Grow(mp, d)
			require.NoError(t, err)
			require.Equal(t, grownWhole(t, mp, d), grown, "%d points, %g m", n, d)
		}
	}
}

// Of a rough outline more and more of the moved ring lies within and is not cut: where the
// points are doubled, what is left is not.
func TestLittleOfARoughOutlineIsCut(t *testing.T) {
	before, allBefore := 0, 0
	for _, n := range []int{10_000, 20_000, 40_000} {
		mp := geo.Wind(orb.MultiPolygon{{walked(n, 400, 0.03)}})
		all := offset(mp[0][0], 4.9)
		left := 0
		for _, piece := range newNearEdges(mp).uncovered(all, 4.9*(1-2*chordError)) {
			left += len(piece)
		}
		t.Logf("%d points: %d of %d", n, left, len(all))
		if before > 0 {
			assert.Less(t, left, before*8/5)
			assert.Greater(t, len(all), allBefore*2)
		}
		before, allBefore = left, len(all)
	}
}

// A vertex may come twice, as rounding leaves it: the ground grows as without.
func TestRepeatedVerticesGrowNothing(t *testing.T) {
	ring := walked(40, 100, 0.5)
	var twice orb.Ring
	for _, p := range ring {
		twice = append(twice, p, p)
	}
	for _, d := range []float64{0.3, 17} {
		want, err := Grow(orb.MultiPolygon{{ring}}, d)
		require.NoError(t, err)
		got, err := Grow(orb.MultiPolygon{{twice}}, d)
		require.NoError(t, err)
		assert.Equal(t, want, got, "%g m", d)
	}
}
