package boundary_test

import (
	"bytes"
	"testing"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/geometry/boundary"
	"github.com/geocoris/geocoris/internal/geometry/planar"
)

// FuzzFields takes outlines of which anything may be drawn. What becomes a field is ground, under
// a name.
func FuzzFields(f *testing.F) {
	const head, tail = `{"type":"FeatureCollection","features":[`, `]}`
	const feature = `{"type":"Feature","properties":{"name":"A"},"geometry":`
	for _, geometries := range [][]string{
		{`{"type":"Polygon","coordinates":[[[0,0],[0.003,0],[0.003,0.003],[0,0.003],[0,0]],[[0.001,0.001],[0.004,0.001],[0.001,0.002],[0.001,0.001]]]}`},
		{`{"type":"Polygon","coordinates":[[[0,0],[0.003,0.003],[0.003,0],[0,0.003],[0,0]]]}`, `{"type":"Polygon","coordinates":[[[0.001,0],[0.002,0],[0.002,0.001],[0.001,0]]]}`},
		{`{"type":"LineString","coordinates":[[0,0],[0.003,0],[0.003,0.003]]}`, `{"type":"LineString","coordinates":[[0.003,0.003],[0,0.003],[0,0]]}`},
	} {
		text := head
		for i, g := range geometries {
			if i > 0 {
				text += ","
			}
			text += feature + g + "}"
		}
		for _, inner := range []string{"", boundary.InnerHole, boundary.InnerField} {
			f.Add([]byte(text+tail), inner)
		}
	}
	f.Fuzz(func(t *testing.T, file []byte, inner string) {
		c, err := geofile.Decode("field.geojson", bytes.NewReader(file), geofile.Limits{Vertices: 200})
		if err != nil {
			return
		}
		fields, _, err := boundary.Fields(c.Features, boundary.Settings{Inner: inner})
		if err != nil {
			return
		}
		if len(fields) == 0 {
			t.Fatal("neither fields nor an error")
		}
		for _, field := range fields {
			frame, err := geo.FrameOf(field.Boundary)
			if err != nil {
				t.Fatal(err)
			}
			if err := planar.Valid(frame.ForwardPolygons(field.Boundary)); err != nil || field.Name == "" {
				t.Fatalf("%q: %v", field.Name, err)
			}
		}
	})
}
