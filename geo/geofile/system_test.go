package geofile_test

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/testkit"
)

func pointIn(t *testing.T, x, y float64, system string) (orb.Point, []string) {
	c, err := decode(fmt.Sprintf(`{"type":"Point","coordinates":[%v,%v]`, x, y) + crs(system) + "}")
	require.NoError(t, err, system)
	return c.Features[0].Geometry.(orb.Point), c.Notes
}

// The example of IOGP Guidance Note 7-2 for method 1024, figures from memory:
// 100°20'00.000"W, 24°22'54.433"N.
func TestWebMercator(t *testing.T) {
	p, notes := pointIn(t, -11169055.58, 2800000, "urn:ogc:def:crs:EPSG::3857")
	assert.InDelta(t, -(100 + 20.0/60), p[0], 1e-7)
	assert.InDelta(t, 24+22.0/60+54.433/3600, p[1], 1e-7)
	assert.Equal(t, []string{"read in urn:ogc:def:crs:EPSG::3857, which its old member crs names"}, notes)
	p, _ = pointIn(t, 0, 0, "EPSG:3857")
	assert.Equal(t, orb.Point{0, 0}, p)
}

// NAD83 and WGS 84 are one within 2 m, which is said once, and their zones of UTM are
// the same to a tenth of a millimetre.
func TestNAD83(t *testing.T) {
	for name, same := range map[string]string{
		"EPSG:26914": "EPSG:32614", "EPSG:26901": "EPSG:32601", "EPSG:26923": "EPSG:32623", "EPSG:6343": "EPSG:32614",
		"EPSG:6328": "EPSG:32659", "EPSG:6348": "EPSG:32619", "urn:ogc:def:crs:EPSG:6.9:26914": "EPSG:32614", "http://www.opengis.net/def/crs/EPSG/0/26914": "EPSG:32614",
	} {
		p, notes := pointIn(t, 264015, 3975480, name)
		q, _ := pointIn(t, 264015, 3975480, same)
		assert.Equal(t, q, p, name)
		assert.Equal(t, []string{"read in " + name + ", which its old member crs names", "its coordinates are on NAD83 (" + name + "), taken as WGS 84: places may be up to 2 m off"}, notes)
	}
	for _, name := range []string{"EPSG:4269", "EPSG:6318"} {
		p, notes := pointIn(t, -101.6, 35.9, name)
		assert.Equal(t, orb.Point{-101.6, 35.9}, p)
		assert.Len(t, notes, 2, name)
	}
	record := `{"type":"Point","coordinates":[264015,3975480]` + crs("EPSG:26914") + "}\n"
	c, err := decode(record + record)
	require.NoError(t, err)
	assert.Len(t, c.Notes, 2, "of several records once")
	for _, name := range []string{"EPSG:26900", "EPSG:26924", "EPSG:26930", "EPSG:32600", "EPSG:32661", "EPSG:32761", "EPSG:6327", "EPSG:6349", "EPSG:4267", "EPSG:4268", "EPSG:13857", "EPSG:0"} {
		_, err := decode(`{"type":"Point","coordinates":[1,2]` + crs(name) + "}")
		assert.ErrorContains(t, err, "its coordinates are in "+name)
	}
}

// Each system that is read has the same ground as in degrees, as GDAL writes it into
// Shapefiles and GeoPackages by PROJ; each other one is refused by its name.
func TestSystemsAsGDALWritesThem(t *testing.T) {
	want := demoArea(t)
	for code, note := range map[string]string{"4326": "", "32614": "", "3857": "", "4269": "NAD83", "26914": "NAD83", "6318": "NAD83", "6343": "NAD83"} {
		for _, extension := range []string{".shp", ".gpkg"} {
			c := asGDALWrites(t, "-t_srs", "EPSG:"+code, extension)
			assert.InEpsilon(t, want, areaOf(t, c.Features), 1e-7, code+extension)
			said := strings.Contains(strings.Join(c.Notes, "\n"), "on NAD83")
			assert.Equal(t, note != "", said, "%s%s: %v", code, extension, c.Notes)
		}
	}
	for _, code := range []string{"4267", "26930", "2154", "3395"} {
		for _, extension := range []string{".shp", ".gpkg"} {
			path := filepath.Join(t.TempDir(), "f"+extension)
			testkit.Program(t, nil, "ogr2ogr", "-t_srs", "EPSG:"+code, path, testkit.Testdata(t, "demo", "field.geojson"))
			_, err := geofile.Read(path, geofile.Limits{})
			assert.ErrorContains(t, err, "its coordinates are in ", code+extension)
		}
	}
}

func demoArea(t *testing.T) float64 {
	c, err := geofile.Read(testkit.Testdata(t, "demo", "field.geojson"), geofile.Limits{})
	require.NoError(t, err)
	return areaOf(t, c.Features)
}

// asGDALWrites is the fields of the demo, which lie in zone 14.
func asGDALWrites(t *testing.T, how, what, extension string) geofile.Collection {
	dir := t.TempDir()
	path := filepath.Join(dir, "f"+extension)
	testkit.Program(t, nil, "ogr2ogr", how, what, path, testkit.Testdata(t, "demo", "field.geojson"))
	c, err := geofile.Read(path, geofile.Limits{})
	require.NoError(t, err, what)
	return c
}

// Heights and measures of a GeoPackage are passed over and said.
func TestHeightsOfAGeoPackage(t *testing.T) {
	want := demoArea(t)
	for _, dim := range []string{"XY", "XYZ", "XYM", "XYZM"} {
		c := asGDALWrites(t, "-dim", dim, ".gpkg")
		assert.InEpsilon(t, want, areaOf(t, c.Features), 1e-7, dim)
		assert.Equal(t, dim != "XY", len(c.Notes) == 1 && c.Notes[0] == "heights and measures passed over", "%s: %v", dim, c.Notes)
	}
	path := filepath.Join(t.TempDir(), "f.gpkg") // which GDAL takes to be in EPSG:4979
	testkit.Program(t, nil, "ogr2ogr", path, testkit.Shared(t, "data", "formats", "poly_3d.geojson"))
	c, err := geofile.Read(path, geofile.Limits{})
	require.NoError(t, err)
	assert.InEpsilon(t, 51734.82162665902, areaOf(t, c.Features), 1e-7)
}

// The names that programs give a datum in a .prj.
func TestNamesOfNAD83(t *testing.T) {
	path := unzipped(t, "poly_wgs84_shp.zip")
	prj := strings.TrimSuffix(path, ".shp") + ".prj"
	for datum, read := range map[string]bool{
		"D_North_American_1983": true, "North_American_Datum_1983": true, "D_NAD_1983_2011": true, "NAD83_National_Spatial_Reference_System_2011": true,
		"D_North_American_1983_CSRS": true, "D_North_American_1927": false, "D_ETRS_1989": false,
	} {
		require.NoError(t, os.WriteFile(prj, []byte(`GEOGCS["x",DATUM["`+datum+`",SPHEROID["GRS_1980",6378137.0,298.257222101]],PRIMEM["Greenwich",0.0],UNIT["Degree",0.0174532925199433]]`), 0o600))
		c, err := geofile.Read(path, geofile.Limits{})
		if !read {
			assert.ErrorContains(t, err, "its coordinates are in x", datum)
			continue
		}
		require.NoError(t, err, datum)
		assert.Equal(t, []string{"its coordinates are on NAD83 (x), taken as WGS 84: places may be up to 2 m off"}, c.Notes)
	}
}
