package geo_test

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/testkit"
)

// ponded is a square of 100 m with a pond of 20 m.
func ponded() orb.MultiPolygon {
	return orb.MultiPolygon{{box(0, 0, 100, 100)[0][0], box(40, 40, 60, 60)[0][0]}}
}

// degenerate is what no field is and nothing may panic on.
func degenerate() map[string]orb.MultiPolygon {
	return map[string]orb.MultiPolygon{
		"nil":          nil,
		"no ring":      {{}},
		"empty ring":   {{{}}},
		"one vertex":   {{{{1, 2}}}},
		"two vertices": {{{{1, 2}, {3, 2}}}},
		"all the same": {{{{1, 2}, {1, 2}, {1, 2}, {1, 2}}}},
		"not a number": {{{{nan, 2}, {3, nan}, {nan, nan}, {1, 1}}}},
		"infinite":     {{{{-inf, 2}, {3, inf}, {inf, -inf}}}},
	}
}

func TestArea(t *testing.T) {
	open := orb.MultiPolygon{{{{0, 0}, {4, 0}, {4, 3}}}}
	tests := []struct {
		name string
		mp   orb.MultiPolygon
		want float64
	}{
		{"square", box(0, 0, 100, 100), 10000},
		{"clockwise", orb.MultiPolygon{{{{0, 0}, {0, 10}, {10, 10}, {10, 0}, {0, 0}}}}, 100},
		{"pond", ponded(), 9600},
		{"two parts", append(box(0, 0, 1, 1), box(5, 5, 7, 7)...), 5},
		{"not closed", open, 6},
		{"far from the origin", box(1e8, 1e8, 1e8+0.5, 1e8+0.5), 0.25},
		{"nil", nil, 0},
		{"one vertex", degenerate()["one vertex"], 0},
		{"two vertices", degenerate()["two vertices"], 0},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			assert.Equal(t, tt.want, geo.Area(tt.mp))
		})
	}
}

func TestContains(t *testing.T) {
	mp := ponded()
	tests := []struct {
		name string
		p    orb.Point
		want bool
	}{
		{"inside", orb.Point{10, 10}, true},
		{"level with vertices of the pond", orb.Point{10, 40}, true},
		{"beyond the pond", orb.Point{90, 60}, true},
		{"in the pond", orb.Point{50, 50}, false},
		{"outside", orb.Point{-1, 50}, false},
		{"outside, level with the top", orb.Point{-1, 100}, false},
		{"outside, level with the bottom", orb.Point{101, 0}, false},
		{"corner", orb.Point{0, 0}, true},
		{"far corner", orb.Point{100, 100}, true},
		{"left edge", orb.Point{0, 50}, true},
		{"right edge", orb.Point{100, 50}, true},
		{"top edge", orb.Point{50, 100}, true},
		{"bottom edge", orb.Point{50, 0}, true},
		{"pond's corner", orb.Point{60, 60}, true},
		{"pond's left edge", orb.Point{40, 50}, true},
		{"pond's top edge", orb.Point{50, 60}, true},
		{"pond's bottom edge", orb.Point{50, 40}, true},
		{"x not a number", orb.Point{nan, 50}, false},
		{"y not a number", orb.Point{50, nan}, false},
		{"infinite", orb.Point{-inf, 50}, false},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			assert.Equal(t, tt.want, geo.Contains(mp, tt.p))
		})
	}
}

func TestDistanceToEdge(t *testing.T) {
	mp := ponded()
	tests := []struct {
		name string
		mp   orb.MultiPolygon
		p    orb.Point
		want float64
	}{
		{"inside, near the outer edge", mp, orb.Point{7, 50}, 7},
		{"inside, near the pond", mp, orb.Point{37, 50}, 3},
		{"inside, near the pond's corner", mp, orb.Point{37, 36}, 5},
		{"in the pond", mp, orb.Point{50, 50}, 10},
		{"outside, off the corner", mp, orb.Point{-3, -4}, 5},
		{"on the edge", mp, orb.Point{0, 12}, 0},
		{"on a vertex", mp, orb.Point{100, 100}, 0},
		{"sloping edge", orb.MultiPolygon{{{{0, 0}, {10, 10}, {0, 20}}}}, orb.Point{10, 0}, math.Sqrt(50)},
		{"closing edge that is not written", orb.MultiPolygon{{{{0, 0}, {10, 10}, {0, 20}}}}, orb.Point{-2, 10}, 2},
		{"single vertex", degenerate()["one vertex"], orb.Point{4, 6}, 5},
		{"no boundary", nil, orb.Point{0, 0}, inf},
		{"x not a number", mp, orb.Point{nan, 0}, nan},
		{"y not a number", nil, orb.Point{0, nan}, nan},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got := geo.DistanceToEdge(tt.mp, tt.p)
			if math.IsNaN(tt.want) {
				assert.True(t, math.IsNaN(got))
				return
			}
			assert.Equal(t, tt.want, got)
		})
	}
}

func TestBound(t *testing.T) {
	assert.Equal(t, orb.Bound{Min: orb.Point{-5, 0}, Max: orb.Point{100, 107}},
		geo.Bound(append(ponded(), box(-5, 103, 1, 107)...)))
	assert.True(t, geo.Bound(nil).IsEmpty())
	assert.Equal(t, orb.Bound{Min: orb.Point{1, 1}, Max: orb.Point{3, 2}},
		geo.Bound(degenerate()["not a number"]))
}

func TestNothingPanicsOnDegenerateRings(t *testing.T) {
	for name, mp := range degenerate() {
		t.Run(name, func(t *testing.T) {
			for _, p := range []orb.Point{{0, 0}, {1, 2}, {2, 2}, {nan, nan}, {inf, -inf}} {
				assert.NotPanics(t, func() {
					geo.Area(mp)
					geo.Bound(mp)
					geo.Wind(mp)
					geo.Contains(mp, p)
					geo.DistanceToEdge(mp, p)
					geo.InsideSpans(mp, p[1])
					_, _ = geo.FrameOf(mp)
				})
			}
			assert.False(t, geo.Contains(mp, orb.Point{0, -7}))
		})
	}
}

// star draws a ring about the origin that does not cross itself: radii of 1 to
// 1000 at even bearings.
func star(t *rapid.T) orb.Ring {
	radii := rapid.SliceOfN(rapid.Float64Range(1, 1000), 3, 40).Draw(t, "radii")
	ring := make(orb.Ring, 0, len(radii)+1)
	for i, r := range radii {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(len(radii)))
		ring = append(ring, orb.Point{r * cos, r * sin})
	}
	return append(ring, ring[0])
}

func TestAreaIgnoresStartAndPlace(t *testing.T) {
	testkit.Property(t, func(t *rapid.T) {
		ring := star(t)
		want := geo.Area(orb.MultiPolygon{{ring}})
		open := ring[:len(ring)-1]
		start := rapid.IntRange(0, len(open)-1).Draw(t, "start")
		turned := append(append(orb.Ring{}, open[start:]...), open[:start]...)
		assert.InEpsilon(t, want, geo.Area(orb.MultiPolygon{{turned}}), 1e-11)

		// Moving by up to 10 km rounds each vertex to 1e-12 m.
		dx, dy := rapid.Float64Range(-1e4, 1e4).Draw(t, "dx"), rapid.Float64Range(-1e4, 1e4).Draw(t, "dy")
		for i := range turned {
			turned[i][0] += dx
			turned[i][1] += dy
		}
		const rounding, perimeter = 2e-12, 40 * 2000
		assert.InDelta(t, want, geo.Area(orb.MultiPolygon{{turned}}), rounding*perimeter+1e-11*want)
	})
}

// A star holds its centre, and a point on the way from the centre to a vertex;
// beyond the vertex it does not.
func TestContainsOnAStar(t *testing.T) {
	testkit.Property(t, func(t *rapid.T) {
		ring := star(t)
		mp := orb.MultiPolygon{{ring}}
		v := rapid.SampledFrom(ring).Draw(t, "vertex")
		s := rapid.Float64Range(0, 0.999).Draw(t, "share")
		require.True(t, geo.Contains(mp, v))
		require.Zero(t, geo.DistanceToEdge(mp, v))
		assert.True(t, geo.Contains(mp, orb.Point{s * v[0], s * v[1]}))
		assert.False(t, geo.Contains(mp, orb.Point{v[0] * 1.001, v[1] * 1.001}))
	})
}
