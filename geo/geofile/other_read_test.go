package geofile_test

import (
	"archive/zip"
	"bytes"
	"database/sql"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/encoding/wkb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/testkit"
)

func TestGPX(t *testing.T) {
	c, err := geofile.Decode("walk.gpx", strings.NewReader(`<?xml version="1.0"?><gpx xmlns="http://www.topografix.com/GPX/1/0">
<wpt lat="35.9" lon="-101.6"><ele>900</ele><name>7</name><cmt>count 12</cmt><extensions><x:a xmlns:x="x"><x:leaves>10</x:leaves></x:a></extensions></wpt>
<rte><name>r</name><rtept lat="1" lon="2"/><rtept lat="2" lon="2"/></rte>
<trk><name>edge</name><trkseg><trkpt lat="1" lon="2"><time>x</time></trkpt></trkseg><trkseg/></trk></gpx>`), geofile.Limits{})
	require.NoError(t, err)
	assert.Equal(t, []geo.Feature{
		{Geometry: orb.Point{-101.6, 35.9}, Line: 2, Properties: geo.Properties{{Name: "ele", Value: "900"}, {Name: "name", Value: "7"}, {Name: "cmt", Value: "count 12"}, {Name: "leaves", Value: "10"}}},
		{Geometry: orb.LineString{{2, 1}, {2, 2}}, Line: 3, Properties: geo.Properties{{Name: "name", Value: "r"}}},
		{Geometry: orb.LineString{{2, 1}}, Line: 4, Properties: geo.Properties{{Name: "name", Value: "edge"}}},
	}, c.Features)
	c, err = geofile.Decode("walk.gpx", strings.NewReader(`<gpx><trk><trkseg><trkpt lat="1" lon="2"/><trkpt lat="1" lon="3"/></trkseg><trkseg/><trkseg><trkpt lat="2" lon="3"/></trkseg></trk><trk/></gpx>`), geofile.Limits{})
	require.NoError(t, err)
	require.Len(t, c.Features, 2)
	assert.Equal(t, orb.MultiLineString{{{2, 1}, {3, 1}}, {{3, 2}}}, c.Features[0].Geometry, "segments are parts of one track")
	assert.Equal(t, orb.LineString(nil), c.Features[1].Geometry)
	for text, want := range map[string]string{
		`<gpx><wpt lat="91" lon="0"/></gpx>`:                       "walk.gpx:1: feature 1: 0, 91 is no longitude",
		`<gpx><wpt lat="x" lon="0"/></gpx>`:                        `lat "x" is no number`,
		`<gpx><wpt lat="1"/></gpx>`:                                `lon "" is no number`,
		`<gpx><wpt lat="1" lon="2">`:                               "the file breaks off",
		`<!DOCTYPE gpx><gpx/>`:                                     "declares a document type",
		`<gpx><wpt lat="1" lon="2">` + strings.Repeat("<a>", 1000): "nested deeper than 64",
	} {
		_, err := geofile.Decode("walk.gpx", strings.NewReader(text), geofile.Limits{})
		assert.ErrorContains(t, err, want, text)
	}
}

func TestSequences(t *testing.T) {
	point := `{"type":"Feature","properties":{"n":1},"geometry":{"type":"Point","coordinates":[1,2]}}`
	for name, text := range map[string]string{"one to a line": point + "\n\n" + point + "\n", "with separators": "\x1e" + point + "\n\x1e" + point} {
		c, err := geofile.Decode("f.ndjson", strings.NewReader(text), geofile.Limits{})
		require.NoError(t, err, name)
		assert.Len(t, c.Features, 2, name)
	}
	_, err := geofile.Decode("f.ndjson", strings.NewReader(point+"\n"+point+"\n{oops}\n"), geofile.Limits{})
	assert.ErrorContains(t, err, "f.ndjson:3: feature 3:")
}

// unzipped lays the files of a zipped Shapefile into a folder.
func unzipped(t *testing.T, name string) string {
	dir := t.TempDir()
	z, err := zip.OpenReader(testkit.Shared(t, "data", "formats", name))
	require.NoError(t, err)
	defer z.Close()
	for _, f := range z.File {
		r, err := f.Open()
		require.NoError(t, err)
		data, err := io.ReadAll(r)
		require.NoError(t, err)
		require.NoError(t, os.WriteFile(filepath.Join(dir, f.Name), data, 0o600))
	}
	return filepath.Join(dir, strings.TrimSuffix(name, "_shp.zip")+".shp")
}

func TestPlainShapefile(t *testing.T) {
	path := unzipped(t, "poly_latin1_shp.zip")
	c, err := geofile.Read(path, geofile.Limits{})
	require.NoError(t, err)
	require.Len(t, c.Features, 1)
	assert.InEpsilon(t, 51734.82162665902, areaOf(t, c.Features), 1e-7)
	name, _ := c.Features[0].Properties.Get("name")
	assert.Equal(t, "Champ d'été", name, "the .cpg names the encoding")

	require.NoError(t, os.Remove(strings.TrimSuffix(path, ".shp")+".prj"))
	c, err = geofile.Read(path, geofile.Limits{})
	require.NoError(t, err)
	assert.Contains(t, c.Notes, "no .prj beside it: taken as longitude and latitude on WGS 84")

	require.NoError(t, os.WriteFile(strings.TrimSuffix(path, ".shp")+".prj", []byte(`PROJCS["NAD83 / Texas North",GEOGCS["NAD83",DATUM["North_American_Datum_1983"]]]`), 0o600))
	_, err = geofile.Read(path, geofile.Limits{})
	assert.ErrorContains(t, err, "its coordinates are in NAD83 / Texas North")
	_, err = geofile.Read(filepath.Join(t.TempDir(), "none.shp"), geofile.Limits{})
	assert.ErrorIs(t, err, os.ErrNotExist)
}

func TestUTMWithoutItsPrjIsRefused(t *testing.T) {
	path := unzipped(t, "poly_utm30_shp.zip")
	require.NoError(t, os.Remove(strings.TrimSuffix(path, ".shp")+".prj"))
	_, err := geofile.Read(path, geofile.Limits{})
	assert.ErrorContains(t, err, "is no longitude and latitude in degrees")
}

func TestBrokenShapefiles(t *testing.T) {
	data, err := os.ReadFile(unzipped(t, "poly_wgs84_shp.zip"))
	require.NoError(t, err)
	for name, c := range map[string]struct {
		data []byte
		want string
	}{
		"cut off":          {data[:len(data)-8], "the file breaks off"},
		"header only":      {data[:50], "its header is missing"},
		"a patch":          {append(append([]byte(nil), data[:108]...), append([]byte{31}, data[109:]...)...), "a shape of kind 31"},
		"too many parts":   {patched(data, 108+36, 0xFF), "shorter than it says"},
		"too many points":  {patched(data, 108+41, 0xFF), "shorter than it says"},
		"parts disordered": {patched(data, 108+44, 0x09), "out of order"},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := geofile.Decode("f.shp", bytes.NewReader(c.data), geofile.Limits{})
			assert.ErrorContains(t, err, c.want)
		})
	}
}

func patched(data []byte, at int, b byte) []byte {
	out := bytes.Clone(data)
	out[at] = b
	return out
}

// GeoPackages as GDAL writes them, in degrees and in UTM.
func TestGeoPackage(t *testing.T) {
	dir := t.TempDir()
	for name, system := range map[string]string{"degrees.gpkg": "EPSG:4326", "utm.gpkg": "EPSG:32630"} {
		path := filepath.Join(dir, name)
		testkit.Program(t, nil, "ogr2ogr", "-f", "GPKG", "-t_srs", system, path, testkit.Shared(t, "data", "formats", "multi.geojson"))
		c, err := geofile.Read(path, geofile.Limits{})
		require.NoError(t, err)
		assert.Equal(t, "GeoPackage", c.Format)
		require.Len(t, c.Features, 1)
		assert.InEpsilon(t, 108472.99886051891, areaOf(t, c.Features), 1e-7)
	}
	path := filepath.Join(dir, "points.gpkg")
	testkit.Program(t, nil, "ogr2ogr", "-f", "GPKG", path, testkit.Shared(t, "data", "formats", "points.geojson"))
	c, err := geofile.Read(path, geofile.Limits{})
	require.NoError(t, err)
	assert.Len(t, c.Features, 63)
	assert.Equal(t, 554.0, sumOf(t, c.Features, "count"))

	testkit.Program(t, nil, "ogr2ogr", "-f", "GPKG", "-t_srs", "EPSG:27700", filepath.Join(dir, "other.gpkg"), testkit.Shared(t, "data", "formats", "multi.geojson"))
	_, err = geofile.Read(filepath.Join(dir, "other.gpkg"), geofile.Limits{})
	assert.ErrorContains(t, err, "its coordinates are in EPSG:27700")
	for name, data := range map[string]string{"empty": "SQLite format 3\x00", "noise": "SQLite format 3\x00" + strings.Repeat("\xff", 4096)} {
		_, err := geofile.Decode("f.gpkg", strings.NewReader(data), geofile.Limits{})
		assert.ErrorContains(t, err, "is no GeoPackage that can be read", name)
	}
}

// smallPackage is the least GeoPackage of one square, made without GDAL.
func smallPackage(t testing.TB) []byte {
	path := filepath.Join(t.TempDir(), "small.gpkg")
	db, err := sql.Open("sqlite", path)
	require.NoError(t, err)
	blob := append([]byte{'G', 'P', 0, 1, 0xE6, 0x10, 0, 0}, wkb.MustMarshal(orb.Polygon{{{0, 0}, {1, 0}, {1, 1}, {0, 0}}})...)
	for _, q := range []struct {
		text string
		args []any
	}{
		{`PRAGMA page_size = 512`, nil},
		{`CREATE TABLE gpkg_spatial_ref_sys (srs_id INTEGER, organization TEXT, organization_coordsys_id INTEGER)`, nil},
		{`CREATE TABLE gpkg_geometry_columns (table_name TEXT, column_name TEXT, srs_id INTEGER)`, nil},
		{`CREATE TABLE "my fields" (fid INTEGER PRIMARY KEY, geom BLOB, name TEXT, ha REAL)`, nil},
		{`INSERT INTO gpkg_spatial_ref_sys VALUES (4326, 'EPSG', 4326)`, nil},
		{`INSERT INTO gpkg_geometry_columns VALUES ('my fields', 'geom', 4326)`, nil},
		{`INSERT INTO "my fields" VALUES (1, ?, 'North', 1.5), (2, NULL, NULL, NULL)`, []any{blob}},
	} {
		_, err := db.Exec(q.text, q.args...)
		require.NoError(t, err, q.text)
	}
	require.NoError(t, db.Close())
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	return data
}

func TestSmallGeoPackage(t *testing.T) {
	c, err := geofile.Decode("f.gpkg", bytes.NewReader(smallPackage(t)), geofile.Limits{})
	require.NoError(t, err)
	assert.Equal(t, []geo.Feature{
		{Geometry: orb.Polygon{{{0, 0}, {1, 0}, {1, 1}, {0, 0}}}, Properties: geo.Properties{{Name: "fid", Value: int64(1)}, {Name: "name", Value: "North"}, {Name: "ha", Value: 1.5}}},
		{Properties: geo.Properties{{Name: "fid", Value: int64(2)}, {Name: "name"}, {Name: "ha"}}},
	}, c.Features)
}
