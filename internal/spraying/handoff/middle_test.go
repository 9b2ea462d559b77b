package handoff_test

import (
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/spraying/handoff"
	"github.com/geocoris/geocoris/internal/spraying/spray"
)

// treated is a job of a field drawn in metres round an invented place, all of it treat
// zone.
func treated(t *testing.T, field orb.MultiPolygon, gates ...orb.Point) (*handoff.Job, geo.Frame) {
	t.Helper()
	frame, err := geo.NewFrame(orb.Point{-101.6, 35.9})
	require.NoError(t, err)
	zone := geo.Feature{Geometry: frame.InversePolygons(geo.Wind(field)), Properties: geo.Properties{{Name: "zone", Value: "treat"}, {Name: "field", Value: "A"}}}
	set := handoff.Settings{Spray: spray.Settings{Swath: 24, Heading: new(float64)}}
	for _, g := range gates {
		set.Gates = append(set.Gates, frame.Inverse(g))
	}
	r, err := handoff.Run([]geo.Feature{zone}, set)
	require.NoError(t, err)
	return r.Jobs[0], frame
}

// The middle is the centroid, and where that lies off the field a place on it: in the
// larger of two parts, and on the ground of a field that bends.
func TestTheMiddleLiesOnTheField(t *testing.T) {
	job, frame := treated(t, orb.MultiPolygon{box(0, 0, 300, 100)})
	middle := frame.Forward(job.Middle())
	assert.InDelta(t, 150, middle[0], 0.01)
	assert.InDelta(t, 50, middle[1], 0.01)

	parts := orb.MultiPolygon{box(0, 0, 100, 100), box(400, 0, 600, 100)}
	job, frame = treated(t, parts)
	middle = frame.Forward(job.Middle())
	assert.True(t, geo.Contains(parts[1:], middle), "%v", middle)

	bent := orb.MultiPolygon{{{{0, 0}, {400, 0}, {400, 400}, {300, 400}, {300, 60}, {100, 60}, {100, 400}, {0, 400}, {0, 0}}}}
	job, frame = treated(t, bent)
	assert.True(t, geo.Contains(bent, frame.Forward(job.Middle())))
}

// Of several gates the nearest to the field's edge is its gate; beyond a kilometre none.
func TestTheGateIsTheNearest(t *testing.T) {
	field := orb.MultiPolygon{box(0, 0, 300, 100)}
	for _, c := range []struct {
		gates []orb.Point
		want  *orb.Point
	}{
		{nil, nil},
		{[]orb.Point{{-40, 50}, {310, 50}, {150, 50}}, &orb.Point{310, 50}},
		{[]orb.Point{{1299, 50}}, &orb.Point{1299, 50}},
		{[]orb.Point{{1301, 50}}, nil},
	} {
		job, frame := treated(t, field, c.gates...)
		if c.want == nil {
			assert.Nil(t, job.Gate, "%v", c.gates)
			continue
		}
		require.NotNil(t, job.Gate)
		at := frame.Forward(*job.Gate)
		assert.InDelta(t, c.want[0], at[0], 0.01)
		assert.InDelta(t, c.want[1], at[1], 0.01)
	}
	frame, err := geo.NewFrame(orb.Point{-101.6, 35.9})
	require.NoError(t, err)
	zone := geo.Feature{Geometry: frame.InversePolygons(geo.Wind(field)), Properties: geo.Properties{{Name: "zone", Value: "treat"}}}
	r, err := handoff.Run([]geo.Feature{zone}, handoff.Settings{Spray: spray.Settings{Swath: 24}, Gates: []orb.Point{{101.6, -35.9}}})
	require.NoError(t, err)
	assert.Nil(t, r.Jobs[0].Gate, "on the other side of the world")
}
