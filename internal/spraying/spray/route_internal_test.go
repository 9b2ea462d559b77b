package spray

import (
	"math"
	"math/rand/v2"
	"os"
	"testing"
	"time"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/testkit"
)

// scattered are so many invented round keep-offs of 5 m in a square.
func scattered(t *testing.T, n int, side float64) orb.MultiPolygon {
	t.Helper()
	random := rand.New(rand.NewPCG(3, 0))
	var all []orb.MultiPolygon
	for range n {
		ground, err := Buffer(orb.Point{side * random.Float64(), side * random.Float64()}, 5)
		require.NoError(t, err)
		all = append(all, ground)
	}
	together, err := Together(all)
	require.NoError(t, err)
	return together
}

// everySight is the length of the shortest way, found by looking from each corner to each
// other over all obstacles (Floyd & Warshall 1962); +Inf where there is none.
func everySight(r *router, a, b orb.Point) float64 {
	places := append([]orb.Point{a, b}, r.corners...)
	free := func(p, q orb.Point) bool {
		t := along(math.Atan2(q[0]-p[0], q[1]-p[1]) * 180 / math.Pi)
		from, to := t.into(p), t.into(q)
		inside := geo.InsideSpans(mapped(r.obstacles, t.into), from[1])
		return total(common([]geo.Span{{From: from[0], To: to[0]}}, inside)) <= overRim
	}
	far := make([][]float64, len(places))
	for i := range places {
		far[i] = make([]float64, len(places))
		for k := range places {
			if far[i][k] = math.Inf(1); free(places[i], places[k]) {
				far[i][k] = apart(places[i], places[k])
			}
		}
	}
	for m := range places {
		for i := range places {
			for k := range places {
				far[i][k] = min(far[i][k], far[i][m]+far[m][k])
			}
		}
	}
	return far[0][1]
}

// Looking only where a way would lead finds ways as short as looking everywhere.
func TestWaysAreTheShortest(t *testing.T) {
	r, random := newRouter(scattered(t, 6, 80)), rand.New(rand.NewPCG(5, 0))
	require.NoError(t, r.prepare())
	bent := 0
	for range 5 {
		a, b := orb.Point{-20, 80 * random.Float64()}, orb.Point{100, 80 * random.Float64()}
		way, err := r.way(a, b)
		require.NoError(t, err)
		require.NotNil(t, way)
		length := 0.0
		for i := 1; i < len(way); i++ {
			length += apart(way[i-1], way[i])
		}
		assert.InDelta(t, everySight(r, a, b), length, 1e-9)
		bent += len(way) - 2
	}
	assert.Greater(t, bent, 0)
}

// More keep-offs than there may be corners: the ways are found, and soon.
func TestManyKeepOffsAreFlownRound(t *testing.T) {
	r, random, begun := newRouter(scattered(t, 200, 600)), rand.New(rand.NewPCG(7, 0)), testkit.Worked(os.Getpid())
	for range 30 {
		x, y := 600*random.Float64(), 600*random.Float64()
		_, err := r.way(orb.Point{x, y}, orb.Point{x + 24, y + 60*random.Float64()})
		require.NoError(t, err)
	}
	assert.Less(t, testkit.Worked(os.Getpid())-begun, time.Minute, "of the processors")
	assert.Greater(t, len(r.corners), mostCorners)
}
