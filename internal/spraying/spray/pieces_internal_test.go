package spray

import (
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
)

// A line lies as long in the pieces of keep-offs that run into one another, round open
// ground too, as in the whole.
func TestPiecesAreTheWhole(t *testing.T) {
	ground := scattered(t, 250, 120)
	rng, cut, most, long := rand.New(rand.NewPCG(23, 24)), 0, 0, 0.0
	for _, polygon := range ground {
		whole, all := orb.MultiPolygon{polygon}, pieces(polygon)
		cut, most = cut+len(all)-1, max(most, len(polygon))
		assert.InDelta(t, geo.Area(whole), areaOf(all), 1e-6)
		for range 200 {
			turn := along(360 * rng.Float64())
			y := turn.into(orb.Point{120 * rng.Float64(), 120 * rng.Float64()})[1]
			var inside []geo.Span
			for _, piece := range all {
				require.LessOrEqual(t, points(orb.MultiPolygon{piece}), fewPlaces)
				inside = append(inside, geo.InsideSpans(mapped(orb.MultiPolygon{piece}, turn.into), y)...)
			}
			want := total(geo.InsideSpans(mapped(whole, turn.into), y))
			require.InDelta(t, want, total(united(inside)), 1e-8)
			long += want
		}
	}
	assert.Greater(t, cut, 50)
	assert.Greater(t, most, 5, "holes")
	assert.Greater(t, long, 1000.0)
}

func areaOf(all []orb.Polygon) (sum float64) {
	for _, piece := range all {
		sum += geo.Area(orb.MultiPolygon{piece})
	}
	return sum
}
