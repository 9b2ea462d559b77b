package spray_test

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/geometry/planar"
	"github.com/geocoris/geocoris/internal/spraying/spray"
	"github.com/geocoris/geocoris/internal/testkit"
)

// Whatever the field, its holes, parts and keep-offs: what is sprayed and the rest of the
// field drawn with fewer points share no ground, cover no closed ground with spray, and
// reach nowhere beyond what they were.
func TestRatesOfFewerPointsNeverCoverClosedGround(t *testing.T) {
	const hair = 1e-3 // m², as of [TestFewerPointsNeverCoverClosedGround]
	reduced, refused, least, greatest := 0, 0, math.Inf(1), 0.0
	testkit.Property(t, func(t *rapid.T) {
		z := zoneSet(t)
		if rapid.IntRange(0, 7).Draw(t, "parts") == 0 {
			z.Field = geo.Wind(append(z.Field, orb.Polygon{blob(t, 900, 0, 200)[0]}))
		}
		g, err := spray.NewTarget(z)
		require.NoError(t, err)
		plan, err := spray.NewPlan(g, spray.Settings{Swath: rapid.Float64Range(8, 40).Draw(t, "swath"), Sections: rapid.SampledFrom([]int{1, 4, 12}).Draw(t, "sections"), Heading: at(rapid.Float64Range(0, 360).Draw(t, "heading"))})
		if err != nil {
			return
		}
		whole, err := g.Part(plan.Cover.Swaths)
		require.NoError(t, err)
		most := rapid.IntRange(80, 300).Draw(t, "most")
		fewer, err := g.PartedFewer(whole, most)
		if err != nil {
			require.ErrorContains(t, err, "too much of it would move")
			var few *spray.PointsError
			require.ErrorAs(t, err, &few)
			most = few.Least
			fewer, err = g.PartedFewer(whole, most)
			require.NoError(t, err)
			refused++
		}
		if whole.Points() <= most {
			require.Equal(t, whole, fewer)
			return
		}
		reduced++
		require.LessOrEqual(t, fewer.Points(), most)
		require.NoError(t, planar.Valid(fewer.On))
		require.NoError(t, planar.Valid(fewer.Rest))
		all, err := spray.Together([]orb.MultiPolygon{g.Field, whole.On})
		require.NoError(t, err)
		for name, both := range map[string][2]orb.MultiPolygon{"closed ground that is sprayed": {fewer.On, g.Closed}, "ground of both": {fewer.On, fewer.Rest}} {
			shared, err := spray.Both(both[0], both[1])
			require.NoError(t, err)
			require.InDelta(t, 0, geo.Area(shared), hair+closedAlready(t, name, whole, g), name)
		}
		require.InDelta(t, 0, beyond(t, fewer.On, all), hair, "sprayed beyond the field and what was sprayed")
		require.InDelta(t, 0, beyond(t, fewer.Rest, all), hair, "rest beyond the field")
		share := geo.Area(fewer.On) / geo.Area(whole.On)
		least, greatest = min(least, share), max(greatest, share)
	})
	t.Logf("%d reduced, %d refused; of the sprayed ground %.3f to %.3f", reduced, refused, least, greatest)
	assert.Greater(t, reduced, testkit.Draws(30))
	assert.Greater(t, refused, 0)
	assert.Less(t, refused, reduced/2)
	assert.Greater(t, least, 0.95)
	assert.Less(t, greatest, 1.05)
}

// closedAlready is what lay over closed ground before: a hair along its border.
func closedAlready(t require.TestingT, name string, p spray.Parted, g *spray.Target) float64 {
	if name == "ground of both" {
		return 0
	}
	both, err := spray.Both(p.On, g.Closed)
	require.NoError(t, err)
	return geo.Area(both)
}
