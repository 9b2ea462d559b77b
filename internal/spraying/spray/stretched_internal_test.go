package spray

import (
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/geo"
)

// A line meets what is left of a polygon as it meets all of it, to the bit: large and small
// rings, whole coordinates and headings that lead along edges among them.
func TestStretchesAreMetAsTheWholeIs(t *testing.T) {
	rng, met := rand.New(rand.NewPCG(23, 24)), 0
	for range 60 {
		var polygon orb.Polygon
		for range rng.IntN(4) {
			ring := orb.Ring{}
			for n := 3 + rng.IntN(80); len(ring) < n; {
				ring = append(ring, orb.Point{float64(rng.IntN(20)), float64(rng.IntN(20))})
			}
			polygon = append(polygon, append(ring, ring[0]))
		}
		s := newStretched(polygon)
		for range 20 {
			turn, y := along(float64(15*rng.IntN(24))), float64(rng.IntN(60)-30)/2
			want := geo.InsideSpans(mapped(orb.MultiPolygon{polygon}, turn.into), y)
			assert.Equal(t, want, s.spans(turn, y))
			met += len(want)
		}
	}
	assert.Greater(t, met, 1000)
}
