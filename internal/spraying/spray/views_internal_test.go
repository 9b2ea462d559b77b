package spray

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/geometry/nearby"
)

// walled are round keep-offs as dense as those in which ways become a maze, with long thin
// ones among them.
func walled(t *testing.T, n int, side float64) orb.MultiPolygon {
	t.Helper()
	random := rand.New(rand.NewPCG(11, 0))
	all := []orb.MultiPolygon{scattered(t, n, side)}
	for range n / 20 {
		x, y := side*random.Float64(), side*random.Float64()
		ground, err := Buffer(orb.LineString{{x, y}, {x + 60*random.Float64(), y + 60*random.Float64()}}, 0.3)
		require.NoError(t, err)
		all = append(all, ground)
	}
	together, err := Together(all)
	require.NoError(t, err)
	return together
}

// No corner that is seen from a place is missing in a view of it, whatever is hidden: near,
// far, from corners and from the rim of obstacles.
func TestNothingSeenIsHidden(t *testing.T) {
	r, random := newRouter(walled(t, 60, 150)), rand.New(rand.NewPCG(12, 0))
	require.NoError(t, r.prepare())
	require.NotEmpty(t, r.discs)
	hidden := 0
	for range 5 {
		places := []orb.Point{{150 * random.Float64(), 150 * random.Float64()}, r.corners[random.IntN(len(r.corners))], r.obstacles[0][0][random.IntN(len(r.obstacles[0][0]))]}
		for _, p := range places {
			v, in := r.look(p, math.Inf(1)), map[int]bool{}
			assert.Equal(t, math.Inf(1), v.to)
			near, nearIn := r.look(p, 60), map[int]bool{}
			for _, k := range v.corners {
				in[int(k)] = true
			}
			for _, k := range near.corners {
				nearIn[int(k)] = true
			}
			for k, corner := range r.corners {
				if !in[k] {
					hidden++
				}
				if (!in[k] || !nearIn[k] && apart(p, corner) <= near.to) && r.free(p, corner) {
					t.Errorf("from %v to %v: is seen", p, corner)
				}
			}
		}
	}
	assert.Greater(t, hidden, 5*len(r.corners), "a third at least")
}

// Ways are the same to the bit where nothing is known to be hidden.
func TestWaysAreTheSameWithoutViews(t *testing.T) {
	r, random := newRouter(walled(t, 90, 200)), rand.New(rand.NewPCG(13, 0))
	all := newRouter(r.obstacles)
	require.NoError(t, r.prepare())
	require.NoError(t, all.prepare())
	all.discs, all.discsNear = nil, nearby.Of(nil, 0)
	bent, none := 0, 0
	for range 40 {
		a, b := orb.Point{200 * random.Float64(), 200 * random.Float64()}, orb.Point{200 * random.Float64(), 200 * random.Float64()}
		way, err := r.way(a, b)
		require.NoError(t, err)
		want, err := all.way(a, b)
		require.NoError(t, err)
		assert.Equal(t, want, way)
		bent += max(0, len(way)-2)
		if way == nil {
			none++
		}
	}
	assert.Greater(t, bent, 20)
	assert.Greater(t, none, 0)
}

// What lies in a disc's shadow is hidden, what lies before it, beside it or on it is not.
func TestDiscsHideWhatLiesBehindThem(t *testing.T) {
	for turn := range 16 {
		to := along(float64(turn) * 22.5)
		p := orb.Point{7, -3}
		at := func(x, y float64) orb.Point {
			q := to.back(orb.Point{x, y})
			return orb.Point{p[0] + q[0], p[1] + q[1]}
		}
		h := newHides()
		h.by(disc{at(100, 0), 10}, p)
		for place, want := range map[[2]float64]bool{{200, 0}: true, {111, 0}: true, {300, 27}: true, {300, -27}: true, {109, 0}: false, {50, 0}: false, {300, 31}: false, {300, -31}: false, {-200, 0}: false, {0, 0}: false} {
			assert.Equal(t, want, h.hidden(at(place[0], place[1]), p), "turned %d: %v", turn, place)
		}
		assert.Equal(t, math.Inf(1), h.end())
		h.by(disc{p, 10}, p)
		assert.False(t, h.hidden(at(0, 50), p), "a disc about the place tells nothing")
	}
}
