package cli_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/testkit"
)

// formats is a file of the reference folder.
func formats(t *testing.T, name string) string { return testkit.Shared(t, "data", "formats", name) }

// made is a file of the given content, or one that GDAL makes of another.
type made struct {
	name    string
	content string
	from    string   // of the reference folder
	gdal    []string // what ogr2ogr is asked for besides
}

func (m made) in(t *testing.T, dir string) string {
	path := filepath.Join(dir, m.name)
	if m.from == "" {
		require.NoError(t, os.WriteFile(path, []byte(m.content), 0o600))
		return path
	}
	testkit.Program(t, nil, "ogr2ogr", append(m.gdal, path, formats(t, m.from))...)
	return path
}

// The sides of an outline around the field of the reference folder, as parts of a track.
const (
	south = `<trkpt lat="50.7991" lon="-1.9814"/><trkpt lat="50.7991" lon="-1.9783"/><trkpt lat="50.8016" lon="-1.9783"/>`
	north = `<trkpt lat="50.8016" lon="-1.9783"/><trkpt lat="50.8016" lon="-1.9814"/>`
	west  = `<trkpt lat="50.8016" lon="-1.9814"/><trkpt lat="50.79915" lon="-1.9814"/>`
	apart = `<trkpt lat="50.8016" lon="-1.9814"/><trkpt lat="50.7994" lon="-1.9814"/>`
)

func track(segments ...string) string {
	return `<gpx version="1.1" xmlns="http://www.topografix.com/GPX/1/1"><trk><trkseg>` + strings.Join(segments, "</trkseg><trkseg>") + `</trkseg></trk></gpx>`
}

const giveMaps = "hint: give GeoJSON, KML, KMZ, GPX, a Shapefile or a GeoPackage\n"

// polygonOf is an outline of the name, which is JSON.
func polygonOf(name string) string {
	return `{"type":"Feature","properties":{"name":` + name + `},"geometry":{"type":"Polygon","coordinates":[[[-1.9814,50.7991],[-1.9783,50.7991],[-1.9783,50.8016],[-1.9814,50.8016],[-1.9814,50.7991]]]}}`
}

// What a boundary may come in: each file gives its fields, or is refused for what it is
// with what is taken in its place.
func TestTheReadingTableOfBoundaries(t *testing.T) {
	const notPicked = "; UTM zones on WGS 84 or NAD83, NAD83 degrees and Web Mercator are read too\n"
	for _, row := range []struct {
		file made
		says string // on the screen where it is read, the refusal where not
		ok   bool
	}{
		{made{name: "z.gpkg", from: "poly_3d.geojson"}, "Champ d'été, 5.17 ha", true},
		{made{name: "m.gpkg", from: "poly_rfc7946.geojson", gdal: []string{"-dim", "XYM"}}, "Champ d'été, 5.17 ha", true},
		{made{name: "zm.gpkg", from: "poly_rfc7946.geojson", gdal: []string{"-dim", "XYZM"}}, "Champ d'été, 5.17 ha", true},
		{made{name: "mercator.gpkg", from: "poly_rfc7946.geojson", gdal: []string{"-t_srs", "EPSG:3857"}}, "Champ d'été, 5.17 ha", true},
		{made{name: "mercator.shp", from: "poly_rfc7946.geojson", gdal: []string{"-t_srs", "EPSG:3857", "-lco", "ENCODING=UTF-8"}}, "Champ d'été, 5.17 ha", true},
		{made{name: "nad83.gpkg", from: "poly_rfc7946.geojson", gdal: []string{"-a_srs", "EPSG:4269"}}, "nad83.gpkg: its coordinates are on NAD83 (EPSG:4269), taken as WGS 84: places may be up to 2 m off", true},
		{made{name: "nad83.shp", from: "poly_rfc7946.geojson", gdal: []string{"-a_srs", "EPSG:4269"}}, "nad83.shp: its coordinates are on NAD83 (GCS_North_American_1983), taken as WGS 84: places may be up to 2 m off", true},
		{made{name: "latin1.geojson", content: polygonOf("\"Ca\xf1ada\"")}, "Cañada, ", true},
		{made{name: "digits.geojson", content: polygonOf("12345678901234567890")}, "12345678901234567890, ", true},
		{made{name: "digits.shp", content: "", from: "poly_rfc7946.geojson", gdal: []string{"-sql", "SELECT CAST(12345678 AS float) AS name FROM poly"}}, "12345678, 5.17 ha", true},
		{made{name: "parts.gpx", content: track(south, north, west)}, "field, 6.", true},
		{made{name: "gap.gpx", content: track(south, north, west)}, "the ends of a line are 5.6 m apart: closed with a straight line, as up to 15 m are", true},
		{made{name: "open.gpx", content: track(south, north, apart)}, "open.gpx: no closed outline, found 1 × open line; its ends are 33.4 m apart, and at most 15 m are closed; end the line where it began\n", false},

		{made{name: "f.fgb", from: "poly_rfc7946.geojson"}, "f.fgb: is a FlatGeobuf file, which is not read\n" + giveMaps, false},
		{made{name: "f.gml", from: "poly_rfc7946.geojson"}, "f.gml: is GML, which is not read\n" + giveMaps, false},
		{made{name: "f.ods", from: "points.geojson"}, "f.ods: is an OpenDocument spreadsheet (.ods), which holds no outlines and no points\n" + giveMaps, false},
		{made{name: "f.xls", content: "\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"}, "f.xls: is a spreadsheet of the old form .xls, which holds no outlines and no points\n" + giveMaps, false},
		{made{name: "f.kml", content: "<!DOCTYPE html><html><body>Log in</body></html>"}, "f.kml: is a web page (HTML), such as a log-in or an error, which holds no outlines and no points\n" + giveMaps, false},
		{made{name: "list.json", content: `[{"name": "North", "area": 12}]`}, "list.json: is a list in JSON, not GeoJSON, which is not read\n" + giveMaps, false},
		{made{name: "f.json", content: `{"fields": []}`}, `f.json:1: is JSON but no GeoJSON: it holds "fields"` + "\n" + giveMaps, false},
		{made{name: "f.csv", content: "a,b\n1,2\n"}, "f.csv: is none of the known formats\n" + giveMaps, false},
		{made{name: "lambert.gpkg", from: "poly_rfc7946.geojson", gdal: []string{"-t_srs", "EPSG:2154"}}, "lambert.gpkg: its coordinates are in EPSG:2154\nhint: save it in WGS 84 longitude and latitude" + notPicked, false},
		{made{name: "state.shp", from: "poly_rfc7946.geojson", gdal: []string{"-a_srs", "EPSG:2275"}}, "state.shp: its coordinates are in NAD_1983_StatePlane_Texas_North_FIPS_4201_Feet\nhint: save it in WGS 84 longitude and latitude" + notPicked, false},
		{made{name: "nad27.shp", from: "poly_rfc7946.geojson", gdal: []string{"-t_srs", "EPSG:4267"}}, "nad27.shp: its coordinates are in GCS_North_American_1927\nhint: save it in WGS 84 longitude and latitude" + notPicked, false},
	} {
		t.Run(row.file.name, func(t *testing.T) {
			dir := t.TempDir()
			path := row.file.in(t, dir)
			code, said, errs := run(t, "map", formats(t, "points_plain.csv"), "--field", path, "--out", filepath.Join(dir, "out"), "--treat-at", "20", "--watch-at", "5", "--details")
			if !row.ok {
				assert.Equal(t, 1, code)
				assert.Equal(t, "geocoris: "+row.says, errs)
				return
			}
			require.Zero(t, code, errs)
			assert.Contains(t, said+errs, row.says)
		})
	}
}

// What counts may come in besides.
func TestTheReadingTableOfCounts(t *testing.T) {
	const tables = "not a table that can be read\nhint: save the table as CSV or .xlsx, or give GeoJSON, KML, KMZ, GPX, a Shapefile or a GeoPackage\n"
	utm, err := os.ReadFile(formats(t, "points_utm30.csv"))
	require.NoError(t, err)
	xy := strings.Replace(string(utm), "easting,northing", "X,Y", 1)
	for _, row := range []struct {
		file made
		says string
		more []string
	}{
		{made{name: "xy.csv", content: xy}, "", []string{"--utm", "30N"}},
		{made{name: "nad83.gpkg", from: "points.geojson", gdal: []string{"-t_srs", "EPSG:4269"}}, "", nil},
		{made{name: "mercator.gpkg", from: "points.geojson", gdal: []string{"-t_srs", "EPSG:3857"}}, "", nil},
		{made{name: "c.ods", from: "points.geojson"}, "c.ods: is an OpenDocument spreadsheet (.ods), " + tables, nil},
		{made{name: "c.xls", content: "\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"}, "c.xls: is a spreadsheet of the old form .xls, " + tables, nil},
		{made{name: "c.xls", content: "<html><table><tr><td>stop</td></tr></table></html>"}, "c.xls: is a web page (HTML), such as a log-in or an error, " + tables, nil},
		{made{name: "c.fgb", from: "points.geojson"}, "c.fgb: is a FlatGeobuf file, " + tables, nil},
		{made{name: "c.gml", from: "points.geojson"}, "c.gml: is GML, " + tables, nil},
		{made{name: "c.json", content: `[{"stop": 1, "count": 3}]`}, "c.json: is a list in JSON, not GeoJSON, " + tables, nil},
		{made{name: "c.json", content: `{"counts": [{"stop": 1, "count": 3}]}`}, `c.json:1: is JSON but no GeoJSON: it holds "counts"` + "\n" + giveMaps, nil},
	} {
		t.Run(row.file.name, func(t *testing.T) {
			dir := t.TempDir()
			args := append([]string{"map", row.file.in(t, dir), "--field", formats(t, "poly_rfc7946.geojson"), "--out", filepath.Join(dir, "out"), "--treat-at", "20", "--watch-at", "5"}, row.more...)
			code, said, errs := run(t, args...)
			if row.says == "" {
				require.Zero(t, code, errs)
				assert.Contains(t, said, "61 of 63 stops used")
				return
			}
			assert.Equal(t, 1, code)
			assert.Equal(t, "geocoris: "+row.says, errs)
		})
	}
}
