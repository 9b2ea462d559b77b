package planar

import (
	"math"
	"math/big"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/geocoris/geocoris/internal/testkit"
)

// On a small lattice most lines touch, overlap or nearly meet. Whatever they do,
// arcs have no point in common but ends, none is twice, and every line is still
// there, moved by less than a step.
func TestArcsMeetAtTheirEndsOnly(t *testing.T) {
	testkit.Hundreds(t, 20, func(t *rapid.T) {
		size := rapid.SampledFrom([]float64{3, 10, 100}).Draw(t, "size")
		point := rapid.Custom(func(t *rapid.T) orb.Point {
			return orb.Point{rapid.Float64Range(-size, size).Draw(t, "x"), rapid.Float64Range(-size, size).Draw(t, "y")}
		})
		lines := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) orb.LineString {
			return rapid.SliceOfN(point, 2, 5).Draw(t, "line")
		}), 0, 12).Draw(t, "lines")
		arcs := nodeOn(lines, 1)
		assertNoded(t, piecesOf(arcs))
		for _, line := range lines {
			for i, p := range line {
				rounded := orb.Point{math.Floor(p[0] + 0.5), math.Floor(p[1] + 0.5)}
				if i > 0 {
					middle := orb.Point{(p[0] + line[i-1][0]) / 2, (p[1] + line[i-1][1]) / 2}
					before := orb.Point{math.Floor(line[i-1][0] + 0.5), math.Floor(line[i-1][1] + 0.5)}
					if before != rounded {
						require.Less(t, distanceToArcs(arcs, middle), 2*math.Sqrt2*0.5+1e-9, "line %v", line)
					}
				}
			}
		}
	})
}

// Two segments cross only at ends that both have; exactly, as an independent
// brute force sees it.
func assertNoded(t require.TestingT, pieces []segment) {
	for i, s := range pieces {
		for _, u := range pieces[:i] {
			require.NotEqual(t, s, u, "twice")
			require.False(t, s.crosses(u), "%v crosses %v", s, u)
			for _, p := range []orb.Point{u.a, u.b} {
				require.False(t, within(s, p), "%v runs through %v", s, p)
			}
			for _, p := range []orb.Point{s.a, s.b} {
				require.False(t, within(u, p), "%v runs through %v", u, p)
			}
		}
	}
}

// within reports whether p is a point of a segment but not one of its ends.
func within(s segment, p orb.Point) bool {
	low, high := s.heights()
	return p != s.a && p != s.b && side(s.a, s.b, p) == 0 &&
		p[0] >= s.a[0] && p[0] <= s.b[0] && p[1] >= low && p[1] <= high
}

func piecesOf(arcs []orb.LineString) (pieces []segment) {
	for _, arc := range arcs {
		for i := 1; i < len(arc); i++ {
			pieces = append(pieces, newSegment(arc[i-1], arc[i]))
		}
	}
	return pieces
}

func distanceToArcs(arcs []orb.LineString, p orb.Point) float64 {
	best := math.Inf(1)
	for _, s := range piecesOf(arcs) {
		dx, dy := s.b[0]-s.a[0], s.b[1]-s.a[1]
		along := ((p[0]-s.a[0])*dx + (p[1]-s.a[1])*dy) / (dx*dx + dy*dy)
		along = min(max(along, 0), 1)
		best = min(best, math.Hypot(s.a[0]+along*dx-p[0], s.a[1]+along*dy-p[1]))
	}
	return best
}

// Real coordinates: lines that cross at tiny angles, vertices a hair apart.
func TestNearlyTheSameLinesAreNoded(t *testing.T) {
	testkit.Hundreds(t, 3, func(t *rapid.T) {
		n := rapid.IntRange(3, 40).Draw(t, "vertices")
		hair := rapid.SampledFrom([]float64{0, 1e-15, 1e-12, 1e-9, 1e-6}).Draw(t, "hair")
		var ring, moved orb.LineString
		for i := range n {
			r := rapid.Float64Range(50, 90).Draw(t, "radius")
			a := 2 * math.Pi * float64(i) / float64(n)
			p := orb.Point{r * math.Cos(a), r * math.Sin(a)}
			ring = append(ring, p)
			moved = append(moved, orb.Point{p[0] + hair*rapid.Float64Range(-1, 1).Draw(t, "dx"), p[1] + hair*rapid.Float64Range(-1, 1).Draw(t, "dy")})
		}
		lines := []orb.LineString{append(ring, ring[0]), append(moved, moved[0])}
		step, err := latticeFor(lines)
		require.NoError(t, err)
		arcs := nodeOn(lines, step)
		for _, arc := range arcs {
			for i := range arc {
				arc[i] = orb.Point{arc[i][0] / step, arc[i][1] / step}
			}
		}
		assertNoded(t, piecesOf(arcs))
	})
}

func TestProductsAreComparedExactly(t *testing.T) {
	exactly := func(a, b, c, d float64) int {
		of := func(v float64) *big.Int { return big.NewInt(int64(v)) }
		return new(big.Int).Mul(of(a), of(b)).Cmp(new(big.Int).Mul(of(c), of(d)))
	}
	testkit.Hundreds(t, 20, func(t *rapid.T) {
		whole := rapid.Custom(func(t *rapid.T) float64 {
			return float64(rapid.Int64Range(-1<<50, 1<<50).Draw(t, "value"))
		})
		a, b := whole.Draw(t, "a"), whole.Draw(t, "b")
		c, d := a+float64(rapid.IntRange(-2, 2).Draw(t, "more")), b+float64(rapid.IntRange(-2, 2).Draw(t, "more"))
		require.Equal(t, exactly(a, b, c, d), compareProducts(a, b, c, d))
	})
	assert.Equal(t, 1, compareProducts(1<<40+1, 1<<40-1, 1<<40+2, 1<<40-2), "equal when rounded")
}

// The lattice follows the coordinates, however large or small.
func TestLatticeFor(t *testing.T) {
	for _, c := range []struct{ largest, want float64 }{
		{0, math.Ldexp(1, -43)}, {1000, math.Ldexp(1, 10-43)}, {1e300, math.Ldexp(1, 997-43)}, {5e-324, math.Ldexp(1, leastExponent)},
	} {
		step, err := latticeFor([]orb.LineString{{{0, 0}, {0, -c.largest}}})
		require.NoError(t, err)
		assert.Equal(t, c.want, step, "%g", c.largest)
	}
	_, err := latticeFor([]orb.LineString{{{0, math.NaN()}}})
	assert.Error(t, err)
	_, err = latticeFor([]orb.LineString{{{math.Inf(1), 0}}})
	assert.Error(t, err)
}
