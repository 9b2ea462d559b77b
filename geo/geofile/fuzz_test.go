package geofile_test

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/geo/geofile"
)

// fuzzLimits keep an input's work small, and are what it must not pass.
var fuzzLimits = geofile.Limits{Bytes: 1 << 20, Features: 1000, Vertices: 10000, Depth: 20, ZipRatio: 100}

// decodeAny must read or refuse with an error of one line, and what it reads can
// be written again or is refused.
func decodeAny(t *testing.T, name string, data []byte) {
	c, err := geofile.Decode(name, bytes.NewReader(data), fuzzLimits)
	if err != nil {
		var e *geofile.Error
		if !errors.As(err, &e) || strings.ContainsAny(e.Msg, "\r\n") {
			t.Fatalf("an error of another form: %q", err)
		}
		return
	}
	if len(c.Features) > fuzzLimits.Features {
		t.Fatalf("%d features", len(c.Features))
	}
	for _, note := range c.Notes {
		if strings.ContainsAny(note, "\r\n") {
			t.Fatalf("a note of several lines: %q", note)
		}
	}
	writeAgain(t, c.Features)
}

// writeAgain must write each feature so that it reads back, or refuse it with an
// error of one line: a name that stands twice, a step across the antimeridian, a
// ring without area.
func writeAgain(t *testing.T, features []geo.Feature) {
	for _, f := range features {
		var b bytes.Buffer
		if err := geofile.WriteGeoJSON(&b, geofile.FeatureCollection{Features: []geo.Feature{f}}); err != nil {
			if strings.ContainsAny(err.Error(), "\r\n") {
				t.Fatalf("an error of several lines: %q", err)
			}
			continue
		}
		again, err := geofile.Decode("again.geojson", bytes.NewReader(b.Bytes()), geofile.Limits{})
		if err != nil || len(again.Features) != 1 {
			t.Fatalf("%d features and %v of what was written:\n%s", len(again.Features), err, b.Bytes())
		}
	}
}

// seed adds the small files of a folder beside the repository, where it is.
func seed(f *testing.F, extension string) {
	paths, _ := filepath.Glob(filepath.Join("..", "..", "..", "shared", "data", "formats", "*"+extension))
	for _, path := range paths {
		if data, err := os.ReadFile(path); err == nil && len(data) < 20000 {
			f.Add(data)
		}
	}
}

func FuzzGeoJSON(f *testing.F) {
	f.Add([]byte(`{"type":"FeatureCollection","features":[{"type":"Feature","id":1,"properties":{"a":[1,"x",null]},"geometry":{"type":"Polygon","coordinates":` + square + `}}]}`))
	f.Add([]byte(`{"type":"GeometryCollection","geometries":[{"type":"MultiPoint","coordinates":[[1,2,3]]}],"crs":{"properties":{"name":"EPSG:4326"}}}`))
	f.Add([]byte("{\"type\":\"Point\",\"coordinates\":[1,2],\"crs\":{\"properties\":{\"name\":\"a\\n\\nb\"}}}"))
	f.Add([]byte("\x1e{\"type\":\"Point\",\"coordinates\":[1,2]}\n\x1e{\"type\":\"Feature\",\"geometry\":null}\n"))
	seed(f, ".geojson")
	seed(f, ".geojsons")
	f.Fuzz(func(t *testing.T, data []byte) { decodeAny(t, "f.geojson", data) })
}

func FuzzKML(f *testing.F) {
	f.Add([]byte(kml(ring("0,0 1,0 1,1 0,0"))))
	f.Add([]byte(kml("<Placemark><MultiGeometry><Point><coordinates>1 ,2</coordinates></Point></MultiGeometry></Placemark><NetworkLink/>")))
	seed(f, ".kml")
	f.Fuzz(func(t *testing.T, data []byte) { decodeAny(t, "f.kml", data) })
}

func FuzzGPX(f *testing.F) {
	f.Add([]byte(`<gpx><wpt lat="1" lon="2"><name>a</name><extensions><x><count>3</count></x></extensions></wpt><rte><rtept lat="1" lon="2"/></rte></gpx>`))
	seed(f, ".gpx")
	f.Fuzz(func(t *testing.T, data []byte) { decodeAny(t, "f.gpx", data) })
}

func FuzzShapefile(f *testing.F) {
	seed(f, "_shp.zip")
	paths, _ := filepath.Glob(filepath.Join("..", "..", "..", "shared", "data", "formats", "*_shp.zip"))
	for _, path := range paths {
		if data, err := os.ReadFile(path); err == nil {
			f.Add(data)
		}
	}
	f.Add([]byte("\x00\x00\x27\x0a"))
	f.Fuzz(func(t *testing.T, data []byte) {
		decodeAny(t, "f.zip", data)
		decodeAny(t, "f.shp", data)
	})
}

func FuzzKMZ(f *testing.F) {
	var b bytes.Buffer
	if err := geofile.WriteKMZ(&b, document()); err != nil {
		f.Fatal(err)
	}
	f.Add(b.Bytes())
	seed(f, ".kmz")
	f.Fuzz(func(t *testing.T, data []byte) { decodeAny(t, "f.kmz", data) })
}

func FuzzGeoPackage(f *testing.F) {
	f.Add(smallPackage(f))
	f.Fuzz(func(t *testing.T, data []byte) { decodeAny(t, "f.gpkg", data) })
}
