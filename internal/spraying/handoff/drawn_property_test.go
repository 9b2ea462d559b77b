package handoff_test

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/geometry/boundary"
	"github.com/geocoris/geocoris/internal/spraying/handoff"
	"github.com/geocoris/geocoris/internal/spraying/spray"
	"github.com/geocoris/geocoris/internal/testkit"
)

// quad is four corners round a place, in metres: a field's or a pond's.
func quad(t *rapid.T, name string, x, y, least, most float64) orb.Ring {
	corner := func(sx, sy float64) orb.Point {
		d := func() float64 { return rapid.Float64Range(least, most).Draw(t, name) }
		return orb.Point{x + sx*d(), y + sy*d()}
	}
	a, b, c, d := corner(-1, -1), corner(1, -1), corner(1, 1), corner(-1, 1)
	return orb.Ring{a, b, c, d, a}
}

// drawnFarm is outlines as somebody may draw them: a field, at times of two parts, with
// ponds as holes, some over its edge, a neighbour that may overlap it, and a pond that is
// a feature of its own. water is all that is water, ring by ring.
func drawnFarm(t *rapid.T, frame geo.Frame) (features []geo.Feature, water []orb.Ring) {
	at := func(name string, least, most float64) float64 { return rapid.Float64Range(least, most).Draw(t, name) }
	feature := func(name string, outline orb.MultiPolygon) {
		features = append(features, geo.Feature{Geometry: frame.InversePolygons(outline), Properties: geo.Properties{{Name: "name", Value: name}}})
	}
	home := orb.MultiPolygon{{quad(t, "field", 0, 0, 120, 180)}}
	if rapid.Bool().Draw(t, "two parts") {
		home = append(home, orb.Polygon{quad(t, "part", 0, 420, 100, 150)})
	}
	for range rapid.IntRange(0, 2).Draw(t, "holes") {
		hole := quad(t, "hole", at("x", -170, 170), at("y", -150, 150), 10, 50)
		home[0], water = append(home[0], hole), append(water, hole)
	}
	feature("Home", home)
	if rapid.Bool().Draw(t, "neighbour") {
		feature("Next", orb.MultiPolygon{{quad(t, "next", 320, 0, 140, 200)}})
	}
	if rapid.Bool().Draw(t, "pond") {
		pond := quad(t, "pond", at("x", -170, 170), at("y", -150, 150), 10, 50)
		feature("Pond", orb.MultiPolygon{{pond}})
		water = append(water, pond)
	}
	return features, water
}

// From outlines as people draw them to the boom: no section is on, and no pass drives,
// over water, wherever it reaches, nor is one field sprayed in another's job.
func TestNoWaterThatWasDrawnIsSprayed(t *testing.T) {
	frame, err := geo.NewFrame(orb.Point{-101.6, 35.9})
	require.NoError(t, err)
	near := 0
	testkit.Property(t, func(rt *rapid.T) {
		features, water := drawnFarm(rt, frame)
		outlines, err := boundary.Read(features, boundary.Settings{Inner: boundary.InnerHole})
		if err != nil {
			rt.Skip(err)
		}
		var zones []geo.Feature
		for _, f := range outlines.Fields {
			zones = append(zones, geo.Feature{Geometry: f.Boundary, Properties: geo.Properties{{Name: "zone", Value: "treat"}, {Name: "field", Value: f.Name}, {Name: "date", Value: "2026-07-15"}}})
		}
		set := settings()
		set.Spray = spray.Settings{Swath: 24, Sections: rapid.SampledFrom([]int{1, 6}).Draw(rt, "sections")}
		set.Closed = outlines.Closed
		r, err := handoff.Run(zones, set)
		if err != nil {
			rt.Skip(err)
		}
		own := map[string]orb.MultiPolygon{}
		for _, f := range outlines.Fields {
			own[f.Name] = frame.ForwardPolygons(f.Boundary)
		}
		for i, s := range r.Swaths() {
			swaths := frame.ForwardPolygons(s.Geometry.(orb.MultiPolygon))
			for _, ring := range water {
				bad, ok := inWater(swaths, ring, own)
				require.False(rt, ok, "%s is sprayed at %v, in the water %v", r.Jobs[i].Field, bad, ring)
				near++
			}
			for name, field := range own {
				if name != r.Jobs[i].Field {
					rest, err := spray.Less(swaths, field)
					require.NoError(rt, err)
					assert.InDelta(rt, geo.Area(swaths), geo.Area(rest), 0.5, "m² of %s sprayed in the job of %s", name, r.Jobs[i].Field)
				}
			}
		}
		for _, f := range r.Passes() {
			if kind, _ := f.Properties.Get("kind"); kind != "pass" {
				continue
			}
			line := f.Geometry.(orb.LineString)
			a, b := frame.Forward(line[0]), frame.Forward(line[1])
			for k := range 101 {
				q := orb.Point{a[0] + (b[0]-a[0])*float64(k)/100, a[1] + (b[1]-a[1])*float64(k)/100}
				for _, ring := range water {
					require.False(rt, wet(q, ring, own), "a pass of %v drives at %v, in the water %v", f.Properties, q, ring)
				}
			}
		}
	})
	require.Greater(t, near, testkit.Draws(50), "too few cases with water")
}

// slack is how far from a water's edge a point counts as in it, m: the last decimal of a
// degree, and the quarter of a metre that a pass may cut a corner by.
const slack = 0.3

// inWater looks for a place of the swaths that lies in water, on a net of 2 m.
func inWater(swaths orb.MultiPolygon, water orb.Ring, own map[string]orb.MultiPolygon) (orb.Point, bool) {
	b := water.Bound()
	for x := b.Min[0]; x < b.Max[0]; x += 2 {
		for y := b.Min[1]; y < b.Max[1]; y += 2 {
			if q := (orb.Point{x, y}); wet(q, water, own) && geo.Contains(swaths, q) {
				return q, true
			}
		}
	}
	return orb.Point{}, false
}

// wet reports whether a place lies in water and in no field: parts of fields that lie in
// a pond are islands.
func wet(q orb.Point, water orb.Ring, own map[string]orb.MultiPolygon) bool {
	if !planar.RingContains(water, q) || math.Abs(geo.DistanceToEdge(orb.MultiPolygon{{water}}, q)) < slack {
		return false
	}
	for _, field := range own {
		if geo.Contains(field, q) {
			return false
		}
	}
	return true
}
