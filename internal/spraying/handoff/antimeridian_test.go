package handoff_test

import (
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/spraying/handoff"
)

// Beside longitude 180 a job is written where all of it lies on one side, in cells too, and
// else refused with a reason, before a file is begun.
func TestJobsBesideLongitude180(t *testing.T) {
	for edge, refused := range map[float64]bool{180: true, 179.9995: false} {
		zones := []geo.Feature{{Geometry: box(edge-0.002, -17.5, edge, -17.496), Properties: geo.Properties{{Name: "zone", Value: "treat"}, {Name: "field", Value: "A"}, {Name: "date", Value: "2026-07-15"}}}}
		for _, cell := range []float64{0, 10} {
			set := settings()
			set.Cell = cell
			across := 90.0
			set.Spray.Heading = &across
			_, err := handoff.Run(zones, set)
			if refused && cell == 0 { // cells end before it
				assert.EqualError(t, err, "A: the job reaches over longitude 180, which its files cannot hold: draw the field some 100 m short of it")
				continue
			}
			require.NoError(t, err)
		}
	}
	// Along it nothing lies beyond.
	set := settings()
	set.Cell, set.Spray.Overrun = 10, new(float64)
	r, err := handoff.Run([]geo.Feature{{Geometry: orb.Polygon(box(179.998, -17.5, 180, -17.496)), Properties: geo.Properties{{Name: "zone", Value: "treat"}, {Name: "field", Value: "A"}}}}, set)
	require.NoError(t, err)
	assert.Greater(t, r.Jobs[0].Share(), 0.8)
}
