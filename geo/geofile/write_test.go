package geofile_test

import (
	"bytes"
	"image/color"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/testkit"
)

func parse(t *testing.T, text string) float64 {
	v, err := strconv.ParseFloat(text, 64)
	require.NoError(t, err)
	return v
}

// features are one of each geometry, wound the wrong way and with more digits
// than are kept.
func features() []geo.Feature {
	outer := orb.Ring{{-101.61, 35.9}, {-101.61, 35.91}, {-101.600000049, 35.91}, {-101.6, 35.9}, {-101.61, 35.9}}
	hole := orb.Ring{{-101.608, 35.902}, {-101.606, 35.902}, {-101.606, 35.904}, {-101.608, 35.902}}
	return []geo.Feature{
		{ID: "z1", Geometry: orb.MultiPolygon{{outer, hole}}, Properties: geo.Properties{
			{Name: "zone", Value: "treat"}, {Name: "mean", Value: 41.5}, {Name: "stops", Value: int64(3)}, {Name: "note", Value: "a < b & \"c\"\n"}, {Name: "max"}, {Name: "trust", Value: false},
		}},
		{Geometry: orb.Polygon{outer}},
		{Geometry: orb.Point{-101.6055555555, 35.9055555555}},
		{Geometry: orb.LineString{{-101.6, 35.9}, {-101.61, 35.91}}},
		{Geometry: orb.Collection{orb.Point{-101.6, 35.9}, orb.Polygon{outer}}},
		{Geometry: orb.MultiPoint{{-101.6, 35.9}, {-101.61, 35.91}}},
		{Geometry: orb.MultiLineString{{{-101.6, 35.9}, {-101.61, 35.91}}, {{-101.6, 35.8}, {-101.61, 35.8}}}},
		{},
	}
}

func geoJSON(t *testing.T, fc geofile.FeatureCollection) string {
	var b bytes.Buffer
	require.NoError(t, geofile.WriteGeoJSON(&b, fc))
	return b.String()
}

func TestWriteGeoJSON(t *testing.T) {
	text := geoJSON(t, geofile.FeatureCollection{Features: features()[:1], Foreign: geo.Properties{{Name: "note", Value: "x"}}})
	assert.Equal(t, `{"type":"FeatureCollection","bbox":[-101.61,35.9,-101.6,35.91],"note":"x","features":[
{"type":"Feature","id":"z1","properties":{"zone":"treat","mean":41.5,"stops":3,"note":"a < b & \"c\"\n","max":null,"trust":false},"geometry":{"type":"MultiPolygon","coordinates":[[[[-101.61,35.9],[-101.6,35.9],[-101.6,35.91],[-101.61,35.91],[-101.61,35.9]],[[-101.608,35.902],[-101.606,35.904],[-101.606,35.902],[-101.608,35.902]]]]}}
]}
`, text)
	assert.Equal(t, "{\"type\":\"FeatureCollection\",\"features\":[\n]}\n", geoJSON(t, geofile.FeatureCollection{}))
}

func TestWhatWasWrittenReadsBack(t *testing.T) {
	c, err := geofile.Decode("f.geojson", strings.NewReader(geoJSON(t, geofile.FeatureCollection{Features: features()})), geofile.Limits{})
	require.NoError(t, err)
	assertSame(t, features(), c.Features)
	assert.Equal(t, features()[0].Properties, c.Features[0].Properties)

	var b bytes.Buffer
	require.NoError(t, geofile.WriteKMZ(&b, document()))
	c, err = geofile.Decode("f.kmz", &b, geofile.Limits{})
	require.NoError(t, err)
	assertSame(t, features()[:7], c.Features)
	mean, _ := c.Features[0].Properties.Get("mean")
	assert.Equal(t, "41.5", mean)
}

// assertSame compares geometries' bounds and areas within the rounding.
func assertSame(t *testing.T, want, got []geo.Feature) {
	t.Helper()
	require.Len(t, got, len(want))
	for i := range want {
		if want[i].Geometry == nil {
			assert.Nil(t, got[i].Geometry)
			continue
		}
		a, b := want[i].Geometry.Bound(), got[i].Geometry.Bound()
		for axis := range 2 {
			assert.InDelta(t, a.Min[axis], b.Min[axis], 0.5001e-7)
			assert.InDelta(t, a.Max[axis], b.Max[axis], 0.5001e-7)
		}
		area := areaOf(t, want[i:i+1])
		assert.InDelta(t, area, areaOf(t, got[i:i+1]), 1e-5*area)
	}
}

func document() geofile.Document {
	d := geofile.Document{Name: "Zones", Description: "what & where <here>", Styles: []geofile.Style{{
		ID: "treat", Fill: color.NRGBA{0xD5, 0x5E, 0x00, 0xA6}, Line: color.NRGBA{A: 0xFF}, Width: 2, Icon: color.NRGBA{0xD5, 0x5E, 0x00, 0xFF}, Scale: 0.6,
	}}}
	folder := geofile.Folder{Name: "zones", Description: "all"}
	for _, f := range features()[:7] {
		folder.Placemarks = append(folder.Placemarks, geofile.Placemark{Name: "a", Description: "b", Style: "treat", Geometry: f.Geometry, Data: f.Properties})
	}
	d.Folders = append(d.Folders, folder)
	return d
}

func TestColoursAreNotMultipliedByTheirAlpha(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, geofile.WriteKML(&b, document()))
	assert.Contains(t, b.String(), "<color>a6005ed5</color>", "KML writes alpha, blue, green, red")
}

func TestWritersRefuse(t *testing.T) {
	nan := math.NaN()
	for name, c := range map[string]struct {
		geometry orb.Geometry
		want     string
	}{
		"not a number":  {orb.Point{nan, 1}, "NaN, 1 is no longitude"},
		"out of range":  {orb.LineString{{0, 0}, {0, 91}}, "0, 91 is no longitude"},
		"unclosed":      {orb.Polygon{{{0, 0}, {1, 0}, {1, 1}, {0, 1}}}, "does not close"},
		"no rings":      {orb.MultiPolygon{{}}, "without rings"},
		"an odd type":   {orb.Bound{}, "cannot write a orb.Bound"},
		"within others": {orb.Collection{orb.Point{0, 0}, orb.Point{500, 0}}, "500, 0 is no longitude"},
	} {
		t.Run(name, func(t *testing.T) {
			var b bytes.Buffer
			err := geofile.WriteGeoJSON(&b, geofile.FeatureCollection{Features: []geo.Feature{{Geometry: c.geometry}}})
			assert.ErrorContains(t, err, c.want)
			err = geofile.WriteKML(&b, geofile.Document{Folders: []geofile.Folder{{Name: "f", Placemarks: []geofile.Placemark{{Geometry: c.geometry}}}}})
			assert.ErrorContains(t, err, c.want)
			assert.Zero(t, b.Len(), "nothing is written before all is known to be right")
		})
	}
	err := geofile.WriteGeoJSON(&bytes.Buffer{}, geofile.FeatureCollection{Features: []geo.Feature{{Properties: geo.Properties{{Name: "mean", Value: nan}}}}})
	assert.ErrorContains(t, err, `property "mean"`)
}

func TestKMZIsTheSameOnEveryRun(t *testing.T) {
	var a, b bytes.Buffer
	require.NoError(t, geofile.WriteKMZ(&a, document()))
	require.NoError(t, geofile.WriteKMZ(&b, document()))
	assert.Equal(t, a.Bytes(), b.Bytes())
}

// checkKML puts a text to the checker of the reference folder and the OGC
// schema.
func checkKML(t *testing.T, text []byte) {
	t.Helper()
	path := filepath.Join(t.TempDir(), "f.kml")
	require.NoError(t, os.WriteFile(path, text, 0o600))
	testkit.Program(t, nil, "python3", testkit.Shared(t, "validators", "kmlcheck.py"), path)
	testkit.Program(t, []string{"XML_CATALOG_FILES=" + testkit.Shared(t, "schemas", "kml", "catalog.xml")},
		"xmllint", "--nonet", "--noout", "--schema", testkit.Shared(t, "schemas", "kml", "ogckml22.xsd"), path)
}

// Read by checkers and readers that are not ours: the RFC 7946 and KML checkers
// of the reference folder, the OGC schema through xmllint, GDAL's ogrinfo.
func TestOutsideReadersAgree(t *testing.T) {
	dir := t.TempDir()
	write := func(name string, content []byte) string {
		path := filepath.Join(dir, name)
		require.NoError(t, os.WriteFile(path, content, 0o600))
		return path
	}
	gj := write("f.geojson", []byte(geoJSON(t, geofile.FeatureCollection{Features: features()})))
	var k, z bytes.Buffer
	require.NoError(t, geofile.WriteKML(&k, document()))
	require.NoError(t, geofile.WriteKMZ(&z, document()))
	kmlPath, kmz := write("f.kml", k.Bytes()), write("f.kmz", z.Bytes())

	testkit.Program(t, nil, "python3", testkit.Shared(t, "validators", "geojson7946.py"), gj)
	testkit.Program(t, nil, "python3", testkit.Shared(t, "validators", "kmlcheck.py"), kmz)
	checkKML(t, k.Bytes())
	for path, count := range map[string]string{gj: "Feature Count: 8", kmlPath: "Feature Count: 7"} {
		assert.Contains(t, testkit.Program(t, nil, "ogrinfo", "-ro", "-al", "-so", path), count)
	}
}
