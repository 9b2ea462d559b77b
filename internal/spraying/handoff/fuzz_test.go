package handoff_test

import (
	"bytes"
	"math"
	"testing"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/geometry/planar"
	"github.com/geocoris/geocoris/internal/spraying/handoff"
)

// FuzzClosed closes ground of a field by files of keep-offs, also by ones that anything was done
// to. What is taken is ground that can be cut out.
func FuzzClosed(f *testing.F) {
	const head, tail = `{"type":"FeatureCollection","features":[{"type":"Feature","properties":{"name":"hives"},"geometry":`, `}]}`
	for _, geometry := range []string{
		`{"type":"Point","coordinates":[-101.599,35.902]}`,
		`{"type":"LineString","coordinates":[[-101.6,35.9],[-101.595,35.903],[-101.595,35.901],[-101.6,35.904]]}`,
		`{"type":"Polygon","coordinates":[[[-101.6,35.9],[-101.595,35.903],[-101.595,35.9],[-101.6,35.903],[-101.6,35.9]]]}`,
		`{"type":"GeometryCollection","geometries":[{"type":"MultiPoint","coordinates":[[-101.599,35.902],[101.599,35.902]]}]}`,
		`null`,
	} {
		f.Add([]byte(head+geometry+tail), 15.0)
		f.Add([]byte(head+geometry+tail), 0.0)
	}
	f.Fuzz(func(t *testing.T, file []byte, setBack float64) {
		if math.IsNaN(setBack) || setBack < 0 || setBack > 1000 {
			return // refused before
		}
		c, err := geofile.Decode("keep_off.geojson", bytes.NewReader(file), geofile.Limits{Vertices: 200})
		if err != nil {
			return
		}
		closed, _, err := handoff.Closed(theField(), []handoff.KeepOff{{File: c.Name, Features: c.Features, Notes: c.Notes, SetBack: setBack}})
		if err != nil {
			return
		}
		near := theField().Boundary.Bound().Pad(0.05) // degrees: far beyond, lines of the plane are not straight in them
		for _, feature := range c.Features {
			if p, is := feature.Geometry.(orb.Point); is && geo.Contains(theField().Boundary, p) && !geo.Contains(closed, p) {
				t.Fatalf("%v is not kept off", p)
			}
		}
		for _, polygon := range closed {
			if b := polygon.Bound(); !near.Contains(b.Min) || !near.Contains(b.Max) {
				continue
			}
			if err := planar.Valid(orb.MultiPolygon{polygon}); err != nil {
				t.Fatal(err)
			}
		}
	})
}
