package geofile_test

import (
	"archive/zip"
	"bytes"
	"io"
	"os"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/testkit"
)

// The files of one field and one point set in many clothes, written by GDAL
// 3.6.2 or by small edits of what it wrote; expected.csv says what each holds.
func TestEveryDialect(t *testing.T) {
	table := testkit.ReadTable(t, testkit.Shared(t, "data", "formats", "expected.csv"))
	formats := map[string]string{"GeoJSON text sequence": "GeoJSON", "Shapefile (zipped)": "Shapefile", "GeoJSON": "GeoJSON", "KML": "KML", "KMZ": "KMZ", "GPX": "GPX"}
	swapped := "poly_swapped_latlon.geojson" // legal, in another place: only the stops can tell
	checked := 0
	for row := range table.Len() {
		name, format := table.Text(t, row, "file"), formats[table.Text(t, row, "format")]
		if format == "" {
			continue
		}
		checked++
		t.Run(name, func(t *testing.T) {
			c, err := geofile.Read(testkit.Shared(t, "data", "formats", name), geofile.Limits{})
			require.NoError(t, err)
			assert.Equal(t, format, c.Format)
			features, _ := table.Number(t, row, "features")
			assert.Len(t, c.Features, int(features))
			if area, ok := table.Number(t, row, "geodesic_area_m2"); ok && name != swapped && table.Text(t, row, "content") != "track" {
				assert.InEpsilon(t, area, areaOf(t, c.Features), 1e-7)
			}
			if sum, ok := table.Number(t, row, "sum_of_counts"); ok {
				assert.Equal(t, sum, sumOf(t, c.Features, "count"))
			}
		})
	}
	assert.Equal(t, 36, checked)
}

// areaOf adds up the polygons of the features in m².
func areaOf(t *testing.T, features []geo.Feature) (sum float64) {
	for _, f := range features {
		for _, p := range polygons(f.Geometry) {
			frame, err := geo.FrameOf(orb.MultiPolygon{p})
			require.NoError(t, err)
			sum += geo.Area(frame.ForwardPolygons(orb.MultiPolygon{p}))
		}
	}
	return sum
}

func polygons(g orb.Geometry) (out orb.MultiPolygon) {
	switch g := g.(type) {
	case orb.Polygon:
		return orb.MultiPolygon{g}
	case orb.MultiPolygon:
		return g
	case orb.Collection:
		for _, part := range g {
			out = append(out, polygons(part)...)
		}
	}
	return out
}

func sumOf(t *testing.T, features []geo.Feature, property string) (sum float64) {
	for _, f := range features {
		v, ok := f.Properties.Get(property)
		require.True(t, ok)
		switch v := v.(type) {
		case int64:
			sum += float64(v)
		case float64:
			sum += v
		case string:
			sum += parse(t, v)
		}
	}
	return sum
}

func decode(text string) (geofile.Collection, error) {
	return geofile.Decode("field.geojson", strings.NewReader(text), geofile.Limits{})
}

const square = `[[[0,0],[1,0],[1,1],[0,1],[0,0]]]`

func TestGeoJSONIsReadWhole(t *testing.T) {
	c, err := decode(`{"type":"FeatureCollection","name":"x","features":[
{"type":"Feature","id":7,"properties":{"name":"North \"40\"","n":3,"f":0.5,"ok":true,"none":null,"list":[1, {"a":2}]},
 "geometry":{"type":"Polygon","coordinates":` + square + `}},
{"type":"Feature","properties":null,"geometry":null},
{"type":"Feature","properties":{},"geometry":{"coordinates":[1.5,2.5,88],"type":"Point"}}]}`)
	require.NoError(t, err)
	assert.Equal(t, []string{"heights passed over at 1 positions", "1 features have no geometry"}, c.Notes)
	require.Len(t, c.Features, 3)
	f := c.Features[0]
	assert.Equal(t, "7", f.ID)
	assert.Equal(t, 2, f.Line)
	assert.Equal(t, geo.Properties{
		{Name: "name", Value: `North "40"`}, {Name: "n", Value: int64(3)}, {Name: "f", Value: 0.5}, {Name: "ok", Value: true},
		{Name: "none"}, {Name: "list", Value: `[1, {"a":2}]`},
	}, f.Properties)
	assert.Equal(t, orb.Polygon{{{0, 0}, {1, 0}, {1, 1}, {0, 1}, {0, 0}}}, f.Geometry)
	assert.Nil(t, c.Features[1].Geometry)
	assert.Equal(t, orb.Point{1.5, 2.5}, c.Features[2].Geometry)
}

func TestRefusedGeoJSON(t *testing.T) {
	polygon := func(coordinates string) string { return `{"type":"Polygon","coordinates":` + coordinates + `}` }
	for name, c := range map[string]struct{ text, want, hint string }{
		"nothing":            {" \n", "the file is empty", "save it anew"},
		"not JSON":           {"{oops", "invalid character 'o'", "save it anew"},
		"broken off":         {`{"type":"Polygon","coordinates":[[[0,0]`, "the file breaks off", ""},
		"more after the end": {polygon(square) + "{}", "there is more after the end", ""},
		"a name twice":       {`{"type":"Polygon","type":"Point","coordinates":[1,2]}`, `the name "type" stands twice`, ""},
		"an array":           {`{"type":[]}`, "a geometry without a type", ""},
		"unclosed":           {polygon(`[[[0,0],[1,0],[1,1],[0,1]]]`), "a ring that does not close", "repeat the first position"},
		"two positions":      {polygon(`[[[0,0],[1,0],[0,0]]]`), "a ring of 3 positions", ""},
		"no ring":            {polygon(`[]`), "a polygon without rings", ""},
		"an empty ring":      {polygon(`[[]]`), "a ring without positions", ""},
		"one number":         {polygon(`[[[0],[1,0],[1,1],[0]]]`), "not two numbers", ""},
		"words":              {polygon(`[[["0","0"]]]`), "not two numbers", ""},
		"flat":               {polygon(`[0,0,1,0]`), "not nested as its type asks", ""},
		"metres":             {`{"type":"Point","coordinates":[500000,4000000]}`, "500000, 4e+06 is no longitude and latitude", "WGS 84"},
		"swapped":            {`{"type":"Point","coordinates":[35.9,-101.6]}`, "35.9, -101.6 is no longitude", "longitude comes first"},
		"beyond numbers":     {`{"type":"Point","coordinates":[1e999,0]}`, "beyond the range", ""},
		"another system":     {`{"type":"Point","coordinates":[1,2],"crs":{"type":"name","properties":{"name":"EPSG:2154"}}}`, "its coordinates are in EPSG:2154", "WGS 84"},
		"no features":        {`{"type":"FeatureCollection"}`, "without a list of features", ""},
		"a feature of text":  {"{\"type\":\"FeatureCollection\",\"features\":[\n\"x\"]}", "field.geojson:2: feature 1: is no feature", ""},
		"too deep":           {`{"a":` + strings.Repeat("[", 100000) + strings.Repeat("]", 100000) + "}", "nested too deep", ""},
		"unknown type":       {`{"type":"Circle","coordinates":[1,2]}`, `"Circle" is no type of geometry`, ""},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := decode(c.text)
			require.ErrorContains(t, err, c.want)
			assert.NotContains(t, err.Error(), "\n")
			var e *geofile.Error
			require.ErrorAs(t, err, &e)
			assert.Contains(t, e.Hint, c.hint)
		})
	}
}

// The invented rings of malformed.geojson: not closed, of two points, empty.
func TestMalformedRingsAreRefused(t *testing.T) {
	raw, err := os.ReadFile(testkit.Testdata(t, "reference", "nasty-polygons", "malformed.geojson"))
	require.NoError(t, err)
	// In metres, brought down to degrees that can be.
	text := strings.ReplaceAll(string(raw), "100", "0.1")
	_, err = decode(text)
	assert.ErrorContains(t, err, "feature 1: a ring that does not close")
	_, err = decode(strings.Replace(text, "[0,0.1]]]", "[0,0.1],[0,0]]]", 1))
	assert.ErrorContains(t, err, "feature 2: a ring of 3 positions")
	_, err = decode(strings.NewReplacer("[0,0.1]]]", "[0,0.1],[0,0]]]", "[0.1,0],[0,0]]]", "[0.1,0],[0,0.2],[0,0]]]").Replace(text))
	assert.ErrorContains(t, err, "feature 3: a polygon without rings")
}

func kml(body string) string {
	return `<?xml version="1.0" encoding="UTF-8"?><kml xmlns="http://www.opengis.net/kml/2.2"><Document>` + body + `</Document></kml>`
}

func ring(coordinates string) string {
	return "<Placemark><Polygon><outerBoundaryIs><LinearRing><coordinates>" + coordinates + "</coordinates></LinearRing></outerBoundaryIs></Polygon></Placemark>"
}

func TestKMLIsReadWhole(t *testing.T) {
	c, err := geofile.Decode("f.kml", strings.NewReader(kml(`<Folder><Placemark id="a"><name>North &amp; pond&nbsp;2</name><description><![CDATA[<b>x</b>]]></description>
<ExtendedData><Data name="count"><displayName>n</displayName><value> 12 </value></Data><SchemaData schemaUrl="#s"><SimpleData name="leaves">10</SimpleData></SchemaData></ExtendedData>
<Point><coordinates> -101.6 , 35.9 , 800 </coordinates></Point></Placemark></Folder>
<NetworkLink><name>n</name><Link><href>other.kml</href></Link></NetworkLink>`)), geofile.Limits{})
	require.NoError(t, err)
	require.Len(t, c.Features, 1)
	assert.Equal(t, geo.Feature{ID: "a", Line: 1, Geometry: orb.Point{-101.6, 35.9}, Properties: geo.Properties{
		{Name: "name", Value: "North & pond\u00a02"}, {Name: "description", Value: "<b>x</b>"}, {Name: "count", Value: "12"}, {Name: "leaves", Value: "10"},
	}}, c.Features[0])
	assert.Equal(t, []string{"the link to other.kml was not followed", "heights passed over at 1 positions"}, c.Notes)
}

func TestRefusedKML(t *testing.T) {
	for name, c := range map[string]struct{ text, want string }{
		"another XML":       {"<svg></svg>", "is no KML: it begins with <svg>"},
		"broken off":        {kml("")[:80], "the file breaks off"},
		"entities":          {`<!DOCTYPE k [<!ENTITY a "aaaa"><!ENTITY b "&a;&a;">]>` + kml("<name>&b;</name>"), "declares a document type"},
		"an entity":         {kml("<Placemark><name>&lol;</name></Placemark>"), "invalid character entity &lol;"},
		"unclosed":          {kml(ring("0,0 1,0 1,1 0,1")), "feature 1: a ring that does not close"},
		"two boundaries":    {kml("<Placemark><Polygon></Polygon></Placemark>"), "a Polygon with 0 outer boundaries"},
		"words":             {kml(ring("a,b 1,0 1,1 a,b")), `"a" in the position "a,b" is no number`},
		"one number":        {kml(ring("0 1 2 3")), `"0" is no position`},
		"doubtful blanks":   {kml(ring("0,0, 1,0, 1,1, 0,0")), "is no position"},
		"out of range":      {kml(ring("0,0 200,0 1,1 0,0")), "200, 0 is no longitude and latitude"},
		"not a number":      {kml(ring("NaN,0 1,0 1,1 NaN,0")), "NaN, 0 is no longitude"},
		"too deep":          {strings.Repeat("<Folder>", 100000), "nested deeper than 64"},
		"too deep geometry": {kml("<Placemark>" + strings.Repeat("<MultiGeometry>", 100000)), "nested deeper than 64"},
		"unknown encoding":  {`<?xml version="1.0" encoding="klingon"?><kml></kml>`, "klingon"},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := geofile.Decode("f.kml", strings.NewReader(c.text), geofile.Limits{})
			require.ErrorContains(t, err, c.want)
			assert.NotContains(t, err.Error(), "\n")
		})
	}
}

func archive(t *testing.T, files ...string) []byte {
	var b bytes.Buffer
	w := zip.NewWriter(&b)
	for i := 0; i < len(files); i += 2 {
		f, err := w.Create(files[i])
		require.NoError(t, err)
		_, err = io.WriteString(f, files[i+1])
		require.NoError(t, err)
	}
	require.NoError(t, w.Close())
	return b.Bytes()
}

func TestKMZ(t *testing.T) {
	link := func(href string) string {
		return "<NetworkLink><Link><href>" + href + "</href></Link></NetworkLink>"
	}
	field := kml(ring("0,0 1,0 1,1 0,0"))
	c, err := geofile.Decode("f.kmz", bytes.NewReader(archive(t, "x.txt", "", "doc.kml", kml(link("a/b.kml")+link("https://example.org/c.kml")), "a/b.kml", kml(link("../doc.kml")+ring("0,0 1,0 1,1 0,0")))), geofile.Limits{})
	require.NoError(t, err)
	assert.Len(t, c.Features, 1, "links inside are followed, once")
	assert.Equal(t, []string{"the link to https://example.org/c.kml was not followed"}, c.Notes)
	c, err = geofile.Decode("misnamed.kml", bytes.NewReader(archive(t, "other.KML", field)), geofile.Limits{})
	require.NoError(t, err)
	assert.Equal(t, "KMZ", c.Format)

	for name, c := range map[string]struct {
		data   []byte
		limits geofile.Limits
		want   string
	}{
		"no KML":           {archive(t, "a.txt", "x"), geofile.Limits{}, "holds no KML"},
		"a way out":        {archive(t, "doc.kml", field, "../../etc/x", ""), geofile.Limits{}, "leads out of the archive"},
		"a root":           {archive(t, "/doc.kml", field), geofile.Limits{}, "leads out of the archive"},
		"a drive":          {archive(t, `C:\doc.kml`, field), geofile.Limits{}, "leads out of the archive"},
		"twice":            {archive(t, "doc.kml", field, "doc.kml", field), geofile.Limits{}, `holds "doc.kml" twice`},
		"a bomb":           {archive(t, "doc.kml", strings.Repeat(" ", 32<<20)+field), geofile.Limits{}, "times its size, more than 200"},
		"too much":         {archive(t, "doc.kml", kml(link("b.kml")), "b.kml", strings.Repeat(" ", 100000)), geofile.Limits{Bytes: 50000}, "unpacks to too much"},
		"not an archive":   {[]byte("PK\x03\x04 and no more"), geofile.Limits{}, "no zip archive"},
		"a fault within":   {archive(t, "doc.kml", kml(link("b.kml")), "b.kml", kml(ring("0,0 1,1"))), geofile.Limits{}, "f.kmz/b.kml:1: feature 1: a ring that does not close"},
		"cut off":          {archive(t, "doc.kml", field)[:60], geofile.Limits{}, "no zip archive"},
		"too many of them": {archive(t, "doc.kml", kml(strings.Repeat(ring("0,0 1,0 1,1 0,0"), 3))), geofile.Limits{Features: 2}, "more than 2 placemarks"},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := geofile.Decode("f.kmz", bytes.NewReader(c.data), c.limits)
			require.ErrorContains(t, err, c.want)
		})
	}
}

// forever is a text without end.
type forever struct{}

func (forever) Read(p []byte) (int, error) {
	for i := range p {
		p[i] = ' '
	}
	return len(p), nil
}

func TestLimits(t *testing.T) {
	_, err := geofile.Decode("f.geojson", forever{}, geofile.Limits{})
	assert.ErrorContains(t, err, "more than 64 MiB")
	for name, limits := range map[string]geofile.Limits{"bytes": {Bytes: 50}, "vertices": {Vertices: 4}, "features": {Features: 1}} {
		feature := `{"type":"Feature","properties":{},"geometry":{"type":"Polygon","coordinates":` + square + `}}`
		_, err := geofile.Decode("f.geojson", strings.NewReader(`{"type":"FeatureCollection","features":[`+feature+","+feature+"]}"), limits)
		assert.ErrorContains(t, err, "more than", name)
	}
	_, err = geofile.Read("no/such.kml", geofile.Limits{})
	assert.ErrorIs(t, err, os.ErrNotExist)
}
