package assess

import (
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/internal/geometry/zones"
)

// Zones come out of the packing to the bit, at the ends of the world too, and those that
// are missing stay missing.
func TestPackedZonesAreToTheBit(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	degree := func(most float64) float64 { return float64(int64((random.Float64()*2-1)*most*decimals)) / decimals }
	ring := func(n int) (r orb.Ring) {
		for range n {
			r = append(r, orb.Point{degree(180), degree(90)})
		}
		return r
	}
	for _, all := range []map[zones.Class]orb.MultiPolygon{
		{},
		{zones.Treat: {}, zones.Clear: {{ring(4)}}},
		{zones.Watch: {{{{180, 90}, {-180, -90}, {180, -90}, {180, 90}}}}},
		{zones.Treat: {{ring(500), ring(4)}, {ring(7)}}, zones.Watch: {{ring(30)}}, zones.Clear: {{ring(3)}}},
	} {
		p := pack(all)
		assert.Equal(t, all, p.unpack())
		assert.Equal(t, all, p.unpack(), "asked again")
	}
}
