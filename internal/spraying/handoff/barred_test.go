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

// zonesIn makes treat zones of fields in metres round an invented place.
func zonesIn(t *testing.T, fields ...orb.MultiPolygon) (out []geo.Feature, frame geo.Frame) {
	t.Helper()
	frame, err := geo.NewFrame(orb.Point{-101.6, 35.9})
	require.NoError(t, err)
	for i, f := range fields {
		out = append(out, geo.Feature{Geometry: frame.InversePolygons(geo.Wind(f)), Properties: geo.Properties{
			{Name: "zone", Value: "treat"}, {Name: "field", Value: string(rune('A' + i))}, {Name: "date", Value: "2026-07-15"},
		}})
	}
	return out, frame
}

// cutField is a field of 400 m that a waterway 20 m wide cuts in two; slant is how far
// east its northern end lies of its southern one.
func cutField(slant float64) (field, water orb.MultiPolygon) {
	west := orb.Polygon{{{-200, -200}, {-10 - slant/2, -200}, {-10 + slant/2, 200}, {-200, 200}, {-200, -200}}}
	east := orb.Polygon{{{10 - slant/2, -200}, {200, -200}, {200, 200}, {10 + slant/2, 200}, {10 - slant/2, -200}}}
	return orb.MultiPolygon{west, east},
		orb.MultiPolygon{{{{-10 - slant/2, -200}, {10 - slant/2, -200}, {10 + slant/2, 200}, {-10 + slant/2, 200}, {-10 - slant/2, -200}}}}
}

// pond is a field with a hole, and one that has a part of the field in its hole.
func pond(island bool) (field, water orb.MultiPolygon) {
	hole := box(-45, -50, 55, 40)
	field = orb.MultiPolygon{{box(-200, -200, 200, 200)[0], hole[0]}}
	water = orb.MultiPolygon{hole}
	if island {
		middle := box(-15, -20, 15, 10)
		field, water = append(field, middle), orb.MultiPolygon{{hole[0], middle[0]}}
	}
	return field, water
}

// Ground that is not field is never sprayed, and no pass leads over it: water that cuts
// the field or lies in it, gaps, other fields of the map.
func TestNothingIsSprayedOrDrivenWhereTheFieldIsNot(t *testing.T) {
	waterway, water := cutField(0)
	slanted, slantedWater := cutField(150)
	ponded, pondWater := pond(false)
	island, islandWater := pond(true)
	one, other := orb.MultiPolygon{box(-200, -200, 3, 200)}, orb.MultiPolygon{box(3, -200, 200, 200)}
	cases := []struct {
		name    string
		fields  []orb.MultiPolygon
		barred  []orb.MultiPolygon // for the job of each field
		heading *float64
		bridge  float64
		least   float64 // share of the fields that is sprayed all the same, with one section
	}{
		{"across a waterway", []orb.MultiPolygon{waterway}, []orb.MultiPolygon{water}, at(90), 0, 0.99},
		{"a waterway across the best heading", []orb.MultiPolygon{waterway}, []orb.MultiPolygon{water}, nil, 0, 0.85},
		{"a gap below the bridge", []orb.MultiPolygon{waterway}, []orb.MultiPolygon{water}, at(90), 30, 0.99},
		{"aslant", []orb.MultiPolygon{slanted}, []orb.MultiPolygon{slantedWater}, at(90), 0, 0.93},
		{"along", []orb.MultiPolygon{slanted}, []orb.MultiPolygon{slantedWater}, at(20.5), 0, 0.85},
		{"a pond", []orb.MultiPolygon{ponded}, []orb.MultiPolygon{pondWater}, at(0), 0, 0.95},
		{"a pond below the bridge", []orb.MultiPolygon{ponded}, []orb.MultiPolygon{pondWater}, at(30), 200, 0.9},
		{"an island in a pond", []orb.MultiPolygon{island}, []orb.MultiPolygon{islandWater}, at(10), 0, 0.9},
		{"another field", []orb.MultiPolygon{one, other}, []orb.MultiPolygon{other, one}, at(80), 0, 0.95},
	}
	for _, tc := range cases {
		for _, sections := range []int{1, 12} {
			t.Run(tc.name+map[int]string{1: "", 12: " in sections"}[sections], func(t *testing.T) {
				features, frame := zonesIn(t, tc.fields...)
				set := settings()
				set.Spray = spray.Settings{Swath: 24, Sections: sections, Heading: tc.heading, Bridge: tc.bridge}
				r, err := handoff.Run(features, set)
				require.NoError(t, err)
				require.Len(t, r.Jobs, len(tc.fields))
				var sprayed, all float64
				for i, j := range r.Jobs {
					swaths := frame.ForwardPolygons(r.Swaths()[i].Geometry.(orb.MultiPolygon))
					apart, err := spray.Less(swaths, tc.barred[i])
					require.NoError(t, err)
					assert.InDelta(t, geo.Area(swaths), geo.Area(apart), 0.1, "m² sprayed where the field is not")
					assert.Positive(t, j.Plan.Cover.OutOfField, "past the outer edge it may")
					sprayed += j.Share() * j.Area
					all += j.Area
				}
				assert.Greater(t, sprayed, tc.least*all)
				for _, f := range r.Passes() {
					if kind, _ := f.Properties.Get("kind"); kind != "pass" {
						continue
					}
					field, _ := f.Properties.Get("field")
					barred := tc.barred[field.(string)[0]-'A']
					line := f.Geometry.(orb.LineString)
					a, b := frame.Forward(line[0]), frame.Forward(line[1])
					for k := range 201 {
						q := orb.Point{a[0] + (b[0]-a[0])*float64(k)/200, a[1] + (b[1]-a[1])*float64(k)/200}
						if geo.Contains(barred, q) {
							require.Less(t, geo.DistanceToEdge(barred, q), 0.3, "the line of %v lies in ground that is not field", f.Properties)
						}
					}
				}
			})
		}
	}
}

func at(v float64) *float64 { return &v }

// Ground that two fields share is sprayed once, and said.
func TestSharedGroundIsSprayedOnce(t *testing.T) {
	features, frame := zonesIn(t, orb.MultiPolygon{box(-200, -100, 20, 100)}, orb.MultiPolygon{box(-20, -100, 200, 100)})
	r, err := handoff.Run(features, settings())
	require.NoError(t, err)
	require.Len(t, r.Jobs, 2)
	a, b := frame.ForwardPolygons(r.Swaths()[0].Geometry.(orb.MultiPolygon)), frame.ForwardPolygons(r.Swaths()[1].Geometry.(orb.MultiPolygon))
	rest, err := spray.Less(a, b)
	require.NoError(t, err)
	assert.InDelta(t, geo.Area(a), geo.Area(rest), 0.1)
	assert.InDelta(t, 40*200, r.Jobs[1].Shared, 1)
	assert.Zero(t, r.Jobs[0].Shared)
	assert.Contains(t, r.Notes, "B: 0.80 ha of it lie in a field before it too: they are in that field's job, not in this one")
}

// The closed ground that a job hands over is its own: another field has a job itself.
func TestClosedGroundOfAJobLeavesOtherFieldsOpen(t *testing.T) {
	ponded, water := pond(false)
	features, frame := zonesIn(t, ponded, orb.MultiPolygon{box(200, -200, 300, 200)})
	r, err := handoff.Run(features, settings())
	require.NoError(t, err)
	closed := r.KeptOff()
	require.Len(t, closed, 1)
	assert.InDelta(t, geo.Area(water), geo.Area(frame.ForwardPolygons(closed[0].Geometry.(orb.MultiPolygon))), 0.1)
}
