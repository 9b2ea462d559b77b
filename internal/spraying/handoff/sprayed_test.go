package handoff_test

import (
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/spraying/handoff"
)

// Ground is counted once, where the job sprays it too: of half the treat zone, drawn twice,
// its 40,068 m² (see [TestAreasComeThrough]); beside the zone none, nor of what is no ground.
func TestGroundThatIsSprayedAgain(t *testing.T) {
	r, err := handoff.Run(zones(), settings())
	require.NoError(t, err)
	half := geo.Feature{Geometry: orb.MultiPolygon{box(-101.6, 35.9, -101.598, 35.902)}}
	quarter := geo.Feature{Geometry: box(-101.6, 35.9, -101.598, 35.901)}
	for name, tc := range map[string]struct {
		ground []geo.Feature
		want   float64
	}{
		"half":         {[]geo.Feature{half}, 40068},
		"half, twice":  {[]geo.Feature{half, quarter, half}, 40068},
		"a quarter":    {[]geo.Feature{quarter}, 20034},
		"none":         {nil, 0},
		"beside":       {[]geo.Feature{{Geometry: box(-101.596, 35.9, -101.594, 35.902)}}, 0},
		"a point only": {[]geo.Feature{{Geometry: orb.Point{-101.599, 35.901}}}, 0},
		"no place":     {[]geo.Feature{{}}, 0},
	} {
		again, err := r.Jobs[0].SprayedAgain(tc.ground)
		require.NoError(t, err, name)
		assert.InDelta(t, tc.want, again, 0.002*tc.want+0.01, name)
	}
	// ground that is kept off is not sprayed again
	kept := settings()
	kept.KeepOffs = []handoff.KeepOff{{File: "applied.geojson", Features: []geo.Feature{half}}}
	r, err = handoff.Run(zones(), kept)
	require.NoError(t, err)
	again, err := r.Jobs[0].SprayedAgain([]geo.Feature{half})
	require.NoError(t, err)
	assert.InDelta(t, 0, again, 1)
}

// Ground of a record is named by its day where it is kept off; zones of a map are not.
func TestGroundOfARecordIsNamedByItsDay(t *testing.T) {
	for want, properties := range map[string]geo.Properties{
		handoff.GroundSprayedOn + "2026-07-17": {{Name: "date", Value: "2026-07-17"}, {Name: "field", Value: "A"}},
		"applied":                              {{Name: "date", Value: "soon"}, {Name: "field", Value: "A"}},
		"creek":                                {{Name: "date", Value: "2026-07-17"}, {Name: "field", Value: "A"}, {Name: "name", Value: "creek"}},
	} {
		set := settings()
		set.KeepOffs = []handoff.KeepOff{{File: "applied.geojson", Features: []geo.Feature{{Geometry: box(-101.6, 35.9, -101.598, 35.902), Properties: properties}}}}
		r, err := handoff.Run(zones(), set)
		require.NoError(t, err)
		require.Len(t, r.Jobs[0].Ground.KeptOff, 1)
		assert.Equal(t, want, r.Jobs[0].Ground.KeptOff[0].Name)
	}
	set := settings()
	set.KeepOffs = []handoff.KeepOff{{File: "watch.geojson", Features: []geo.Feature{{Geometry: box(-101.6, 35.9, -101.598, 35.902), Properties: append(zones()[0].Properties[:3:3], geo.Property{Name: "date", Value: "2026-07-17"})}}}}
	r, err := handoff.Run(zones(), set)
	require.NoError(t, err)
	assert.Equal(t, "watch", r.Jobs[0].Ground.KeptOff[0].Name)
}
