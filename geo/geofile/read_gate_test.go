package geofile_test

import (
	"archive/zip"
	"bytes"
	"encoding/binary"
	"fmt"
	"os"
	"strings"
	"testing"
	"unicode/utf16"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo/geofile"
)

func point(extra string) string { return `{"type":"Point","coordinates":[1,2]` + extra + `}` }

func feature(extra string) string {
	return `{"type":"Feature","properties":null,"geometry":` + point("") + extra + `}`
}

func crs(name string) string {
	return `,"crs":{"type":"name","properties":{"name":"` + name + `"}}`
}

// What RFC 7946 leaves to readers, and what it does not allow.
func TestOddGeoJSONIsRefused(t *testing.T) {
	for name, c := range map[string]struct{ text, want string }{
		"an empty multipoint":      {`{"type":"MultiPoint","coordinates":[]}`, "an empty MultiPoint"},
		"an empty multipolygon":    {`{"type":"MultiPolygon","coordinates":[]}`, "an empty MultiPolygon"},
		"an empty line":            {`{"type":"LineString","coordinates":[]}`, "an empty LineString"},
		"a line of one position":   {`{"type":"LineString","coordinates":[[1,2]]}`, "a LineString of 1 position"},
		"a short line among lines": {`{"type":"MultiLineString","coordinates":[[[1,2],[2,3]],[[1,2]]]}`, "a LineString of 1 position"},
		"an empty collection":      {`{"type":"GeometryCollection","geometries":[]}`, "an empty GeometryCollection"},
		"empty within":             {`{"type":"GeometryCollection","geometries":[` + point("") + `,{"type":"GeometryCollection","geometries":[]}]}`, "an empty GeometryCollection"},
		"an empty point":           {`{"type":"Point","coordinates":[]}`, "not two numbers"},
		"an id of another kind":    {feature(`,"id":{"a":1}`), "its id is neither text nor a number"},
		"a system within":          {`{"type":"FeatureCollection","features":[` + feature(crs("EPSG:32630")) + `]}`, "a crs member of its own, EPSG:32630"},
		"an unknown one within":    {`{"type":"FeatureCollection","features":[` + feature(crs("EPSG:2154")) + `]}`, "its coordinates are in EPSG:2154"},
		"a system without a name":  {point(`,"crs":{"type":"link","properties":{}}`), "a system without a name"},
		"a linked system":          {point(`,"crs":{"type":"link","properties":{"href":"http://example.org/crs/42"}}`), "http://example.org/crs/42"},
		"a geometry for a feature": {`{"type":"FeatureCollection","features":[` + point("") + `]}`, "is no feature"},
		"a deep end":               {strings.Repeat(`{"a":`, 100000), "nested too deep: more than 64 levels"},
		"NaN":                      {`{"type":"Point","coordinates":[NaN,1]}`, "invalid character 'N'"},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := decode(c.text)
			require.ErrorContains(t, err, c.want)
			assert.NotContains(t, err.Error(), "\n")
		})
	}
}

func TestSystemsOfGeoJSON(t *testing.T) {
	for _, name := range []string{"EPSG:4326", "urn:ogc:def:crs:OGC:1.3:CRS84", "urn:ogc:def:crs:EPSG::4326"} {
		c, err := decode(point(crs(name)))
		require.NoError(t, err, name)
		assert.Equal(t, orb.Point{1, 2}, c.Features[0].Geometry, name)
	}
	c, err := decode(`{"type":"FeatureCollection","features":[` + feature(crs("EPSG:4326")) + `]}`)
	require.NoError(t, err, "a member of its own that changes nothing")
	assert.Len(t, c.Features, 1)

	utm := `{"type":"Point","coordinates":[500000,0]` + crs("EPSG:32631") + "}"
	_, err = decode(utm + "\n" + `{"type":"Point","coordinates":[500000,0]}` + "\n")
	assert.ErrorContains(t, err, "field.geojson:2:", "the system of one record is not that of the next")
}

func TestLinesOfFeatures(t *testing.T) {
	text := "{\"type\":\"FeatureCollection\",\n\"features\":[\n\n" + feature("") + ",\n" + feature("") + "," + feature("") + "\n]}"
	c, err := decode(text)
	require.NoError(t, err)
	var lines []int
	for _, f := range c.Features {
		lines = append(lines, f.Line)
	}
	assert.Equal(t, []int{4, 5, 5}, lines)
}

func TestGeoJSONNotes(t *testing.T) {
	c, err := decode(`{"type":"Feature","properties":{"name":"Caf` + "\xe9" + `"},"geometry":null}`)
	require.NoError(t, err)
	assert.Equal(t, []string{"is not in UTF-8: read as Windows-1252, so look at names with accents", "1 features have no geometry"}, c.Notes)
	assert.Equal(t, "Café", c.Features[0].Properties[0].Value)
	// Letters of two ways of writing them are not both right in either.
	c, err = decode(`{"type":"Feature","properties":{"name":"Café Caf` + "\xe9" + `"},"geometry":null}`)
	require.NoError(t, err)
	assert.Equal(t, []string{"is not in UTF-8: letters that cannot be read stand as \uFFFD", "1 features have no geometry"}, c.Notes)
	assert.Equal(t, "Café Caf\uFFFD", c.Features[0].Properties[0].Value)
}

func TestUTF16WithoutAMark(t *testing.T) {
	for name, text := range map[string]string{
		"f.json": feature(""),
		"f.kml":  strings.Replace(kml("<Placemark><Point><coordinates>1,2</coordinates></Point></Placemark>"), "UTF-8", "UTF-16", 1),
	} {
		for _, order := range []binary.AppendByteOrder{binary.LittleEndian, binary.BigEndian} {
			var data []byte
			for _, unit := range utf16.Encode([]rune(text)) {
				data = order.AppendUint16(data, unit)
			}
			c, err := geofile.Decode(name, bytes.NewReader(data), geofile.Limits{})
			require.NoError(t, err, "%s, %v", name, order)
			assert.Equal(t, orb.Point{1, 2}, c.Features[0].Geometry)
		}
	}
}

// Small values, many of them, would take far more memory than the text does.
func TestValuesAreBounded(t *testing.T) {
	many := func(value string) string { return strings.Repeat(value+",", 1100) }
	for _, value := range []string{many("[]"), many("{}"), many(`""`), `"",` + many("0"), many("0") + `"",`} {
		text := `{"type":"Feature","geometry":null,"properties":{"a":[` + value + `0]}}`
		_, err := geofile.Decode("f.json", strings.NewReader(text), geofile.Limits{Vertices: 10, Features: 1})
		assert.ErrorContains(t, err, "more than 1030 values", value[:6])
		_, err = geofile.Decode("f.json", strings.NewReader(text), geofile.Limits{})
		assert.NoError(t, err, value[:6])
	}
}

func TestOddKML(t *testing.T) {
	placemark := func(geometry string) string { return kml("<Placemark>" + geometry + "</Placemark>") }
	for name, c := range map[string]struct{ text, want string }{
		"text after the end": {kml("") + "more", "there is text outside of its elements"},
		"two roots":          {"<kml></kml><kml></kml>", "there is a second <kml> after the end"},
		"an empty line":      {placemark("<LineString><coordinates/></LineString>"), "an empty LineString"},
		"a short line":       {placemark("<LineString><coordinates>1,2</coordinates></LineString>"), "a LineString of 1 position"},
		"two positions":      {placemark("<Point><coordinates>1,2 3,4</coordinates></Point>"), "a Point with 2 positions"},
		"two geometries":     {placemark("<Point><coordinates>1,2</coordinates></Point><Point><coordinates>1,2</coordinates></Point>"), "two geometries"},
		"swapped":            {placemark("<Point><coordinates>35.9,-101.6</coordinates></Point>"), "35.9, -101.6 is no longitude"},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := geofile.Decode("f.kml", strings.NewReader(c.text), geofile.Limits{})
			require.ErrorContains(t, err, c.want)
		})
	}
	c, err := geofile.Decode("f.kml", strings.NewReader(kml("<Placemark><MultiGeometry><Model/></MultiGeometry></Placemark><Placemark/><NetworkLink><Link><href>a\nb</href></Link></NetworkLink>")), geofile.Limits{})
	require.NoError(t, err)
	require.Len(t, c.Features, 2)
	assert.Nil(t, c.Features[0].Geometry)
	assert.Equal(t, []string{"the link to a b was not followed", "2 placemarks have no geometry that can be read"}, c.Notes)
}

func TestKMZGates(t *testing.T) {
	field := kml(ring("0,0 1,0 1,1 0,0"))
	link := "<NetworkLink><Link><href>b.kml</href></Link></NetworkLink>"
	_, err := geofile.Decode("f.kmz", bytes.NewReader(archive(t, "doc.kml", kml(link+ring("0,0 1,0 1,1 0,0")), "b.kml", field)), geofile.Limits{Vertices: 7})
	assert.ErrorContains(t, err, "more than 7 positions", "counted over all files")

	locked := archive(t, "doc.kml", field)
	for _, at := range []struct {
		signature string
		flags     int
	}{{"PK\x03\x04", 6}, {"PK\x01\x02", 8}} { // APPNOTE 4.3.7, 4.3.12
		locked[bytes.Index(locked, []byte(at.signature))+at.flags] |= 1
	}
	_, err = geofile.Decode("f.kmz", bytes.NewReader(locked), geofile.Limits{})
	assert.ErrorContains(t, err, "doc.kml in it is encrypted")

	var b bytes.Buffer
	w := zip.NewWriter(&b)
	for i := range 10_001 {
		_, err := w.Create(fmt.Sprint(i))
		require.NoError(t, err)
	}
	require.NoError(t, w.Close())
	_, err = geofile.Decode("f.kmz", &b, geofile.Limits{})
	assert.ErrorContains(t, err, "10001 files, more than 10000")
}

// Whole numbers of more digits than a number has are names: each digit of them stays.
func TestLongNumbersKeepTheirDigits(t *testing.T) {
	c, err := decode(`{"type":"Feature","properties":{"a":9223372036854775807,"b":12345678901234567890,"c":-98765432109876543210,"d":1.5e3,"e":12345678901234567890.5},"geometry":null}`)
	require.NoError(t, err)
	var values []any
	for _, p := range c.Features[0].Properties {
		values = append(values, p.Value)
	}
	assert.Equal(t, []any{int64(9223372036854775807), "12345678901234567890", "-98765432109876543210", 1500.0, 12345678901234567890.5}, values)
}

// So they do in a table of dBASE, whose numbers are text.
func TestLongNumbersOfADBF(t *testing.T) {
	shp, err := os.ReadFile(unzipped(t, "poly_wgs84_shp.zip"))
	require.NoError(t, err)
	for text, want := range map[string]any{"12345678901234567890": "12345678901234567890", "42": int64(42), "1.5": 1.5, "9223372036854775807": int64(9223372036854775807)} {
		dbf := make([]byte, 65, 100)
		dbf[0], dbf[4], dbf[8], dbf[10] = 3, 1, 65, 21
		copy(dbf[32:], "NAME")
		dbf[32+11], dbf[32+16], dbf[64] = 'N', 20, 0x0D
		dbf = append(dbf, fmt.Sprintf(" %20s", text)...)
		c, err := geofile.DecodeSource(geofile.Source{Name: "f.shp", Content: shp, Beside: map[string][]byte{".dbf": dbf}}, geofile.Limits{})
		require.NoError(t, err)
		got, _ := c.Features[0].Properties.Get("NAME")
		assert.Equal(t, want, got)
	}
}
