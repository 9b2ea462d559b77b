package geofile_test

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/testkit"
)

// ground is a feature with a hole and two parts, one with text beyond ASCII.
func ground() geofile.Layer {
	ring := func(x, y, d float64) orb.Ring {
		return orb.Ring{{x, y}, {x + d, y}, {x + d, y + d}, {x, y + d}, {x, y}}
	}
	two := orb.MultiPolygon{{ring(-101.6, 35.9, 0.01), ring(-101.598, 35.902, 0.002)}, {ring(-101.58, 35.9, 0.005)}}
	return geofile.Layer{Name: "ground", Date: "2026-07-15", Features: []geo.Feature{
		{Geometry: two, Properties: geo.Properties{{Name: "field", Value: "Größe ł"}, {Name: "area_ha", Value: 12.5}, {Name: "passes", Value: int64(7)}, {Name: "on", Value: true}}},
		{Geometry: orb.Polygon{ring(-101.5, 35.9, 0.001)}, Properties: geo.Properties{{Name: "field", Value: "b"}, {Name: "area_ha", Value: nil}, {Name: "passes", Value: int64(-3)}, {Name: "on", Value: false}}},
	}}
}

func TestShapefileComesBack(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, geofile.WriteShapefile(&b, ground()))
	c, err := geofile.Decode("ground.zip", bytes.NewReader(b.Bytes()), geofile.Limits{})
	require.NoError(t, err)
	assert.Equal(t, "Shapefile", c.Format)
	require.Len(t, c.Features, 2)
	assert.InDelta(t, geo.Area(ground().Features[0].Geometry.(orb.MultiPolygon)), geo.Area(asAreas(c.Features[0].Geometry)), 1e-12)
	name, _ := c.Features[0].Properties.Get("field")
	assert.Equal(t, "Größe ł", name)
	missing, _ := c.Features[1].Properties.Get("area_ha")
	assert.Nil(t, missing)

	var again bytes.Buffer
	require.NoError(t, geofile.WriteShapefile(&again, ground()))
	assert.Equal(t, b.Bytes(), again.Bytes())
}

func asAreas(g orb.Geometry) orb.MultiPolygon {
	if p, ok := g.(orb.Polygon); ok {
		return orb.MultiPolygon{p}
	}
	return g.(orb.MultiPolygon)
}

func TestShapefilePassesOutsideCheckers(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, geofile.WriteShapefile(&b, ground()))
	dir := t.TempDir()
	archive := filepath.Join(dir, "ground.zip")
	require.NoError(t, os.WriteFile(archive, b.Bytes(), 0o644))
	testkit.Program(t, nil, "python3", "-m", "zipfile", "-e", archive, dir)
	testkit.Program(t, nil, "python3", testkit.Shared(t, "validators", "shpcheck.py"), filepath.Join(dir, "ground.shp"))
	text := testkit.Program(t, nil, "ogrinfo", "-ro", "-al", filepath.Join(dir, "ground.shp"))
	for _, want := range []string{"Geometry: Polygon", "Feature Count: 2", "Größe ł", "area_ha (Real) = 12.5", "passes (Integer) = -3", "WGS 84"} {
		assert.Contains(t, text, want)
	}
}

// Lines and points are read back by others and by us, place by place.
func TestShapefilesOfLinesAndPoints(t *testing.T) {
	for want, c := range map[string]struct {
		geometry orb.Geometry
		said     string
	}{
		"Line String":       {orb.LineString{{-101.6, 35.9}, {-101.59, 35.91}}, "LINESTRING (-101.6 35.9,-101.59 35.91)"},
		"Line String, of 2": {orb.MultiLineString{{{-101.6, 35.9}, {-101.59, 35.91}}, {{-101.5, 35.9}, {-101.4, 35.8}, {-101.4, 35.7}}}, "MULTILINESTRING ((-101.6 35.9,-101.59 35.91),(-101.5 35.9,-101.4 35.8,-101.4 35.7))"},
		"Point":             {orb.Point{-101.5983, 35.9000001}, "POINT (-101.5983 35.9000001)"},
	} {
		var b bytes.Buffer
		layer := geofile.Layer{Name: "lines", Features: []geo.Feature{{Geometry: c.geometry, Properties: geo.Properties{{Name: "pass", Value: int64(3)}}}}}
		require.NoError(t, geofile.WriteShapefile(&b, layer))
		back, err := geofile.Decode("lines.zip", bytes.NewReader(b.Bytes()), geofile.Limits{})
		require.NoError(t, err)
		require.Len(t, back.Features, 1)
		whole := c.geometry
		if line, is := whole.(orb.LineString); is {
			whole = orb.MultiLineString{line} // as the format has them
		}
		assert.Equal(t, whole, back.Features[0].Geometry)
		path := filepath.Join(t.TempDir(), "lines.zip")
		require.NoError(t, os.WriteFile(path, b.Bytes(), 0o644))
		text := testkit.Program(t, nil, "ogrinfo", "-ro", "-al", "/vsizip/"+path)
		kind, _, _ := strings.Cut(want, ",")
		for _, says := range []string{"Geometry: " + kind, "Feature Count: 1", "pass (Integer) = 3", c.said} {
			assert.Contains(t, text, says)
		}
		assert.NotContains(t, text, "Warning")
	}
}

func TestShapefileRefuses(t *testing.T) {
	for name, change := range map[string]func(*geofile.Layer){
		"two kinds of shape": func(l *geofile.Layer) { l.Features[0].Geometry = orb.LineString{{0, 0}, {1, 1}} },
		"no feature":         func(l *geofile.Layer) { l.Features = nil },
		"several points":     func(l *geofile.Layer) { l.Features = l.Features[:1]; l.Features[0].Geometry = orb.MultiPoint{{0, 0}} },
		"nothing":            func(l *geofile.Layer) { l.Features[0].Geometry = orb.MultiPolygon{} },
		"an open ring":       func(l *geofile.Layer) { l.Features[0].Geometry = orb.Polygon{{{0, 0}, {1, 0}, {1, 1}, {0, 1}}} },
		"a long name":        func(l *geofile.Layer) { l.Features[0].Properties[0].Name = "elevenchars" },
		"a name twice":       func(l *geofile.Layer) { l.Features[0].Properties[0].Name = "AREA_HA" },
		"a value too wide":   func(l *geofile.Layer) { l.Features[0].Properties[1].Value = 1e15 },
		"two kinds":          func(l *geofile.Layer) { l.Features[1].Properties[1].Value = "x" },
		"a date that isn't":  func(l *geofile.Layer) { l.Date = "July" },
	} {
		l := ground()
		change(&l)
		assert.Error(t, geofile.WriteShapefile(&bytes.Buffer{}, l), name)
	}
}

func TestGeoPackagePassesGDAL(t *testing.T) {
	passes := geofile.Layer{Name: "passes", Features: []geo.Feature{
		{Geometry: orb.LineString{{-101.6, 35.9}, {-101.59, 35.91}}, Properties: geo.Properties{{Name: "pass", Value: int64(1)}}}}}
	layers := []geofile.Layer{ground(), passes}
	layers[0].Features[1].Geometry = orb.MultiPolygon{layers[0].Features[1].Geometry.(orb.Polygon)}
	var b, again bytes.Buffer
	require.NoError(t, geofile.WriteGeoPackage(&b, layers))
	require.NoError(t, geofile.WriteGeoPackage(&again, layers))
	assert.True(t, bytes.Equal(b.Bytes(), again.Bytes()), "the same bytes on every run")

	c, err := geofile.Decode("x.gpkg", bytes.NewReader(b.Bytes()), geofile.Limits{})
	require.NoError(t, err)
	require.Len(t, c.Features, 3)

	path := filepath.Join(t.TempDir(), "handoff.gpkg")
	require.NoError(t, os.WriteFile(path, b.Bytes(), 0o644))
	if _, err := os.Stat("/usr/bin/python3"); err != nil {
		testkit.Missing(t, "the system's Python with GDAL's bindings")
	}
	testkit.AssertGeoPackage(t, path)
	text := testkit.Program(t, nil, "ogrinfo", "-ro", "-al", path)
	for _, want := range []string{"Layer name: ground", "Geometry: Multi Polygon", "Layer name: passes", "Geometry: Line String", "Größe ł"} {
		assert.Contains(t, text, want)
	}
	assert.NotContains(t, text, "Warning")
}

// Features of a layer need not have the same properties: each column holds what those have
// that have it, in its own kind.
func TestGeoPackageKeepsWhatTheFirstFeatureLacks(t *testing.T) {
	stops := geofile.Layer{Name: "stops", Features: []geo.Feature{
		{Geometry: orb.Point{-101.6, 35.9}, Properties: geo.Properties{{Name: "stop", Value: "1"}}},
		{Geometry: orb.Point{-101.61, 35.9}, Properties: geo.Properties{{Name: "kind", Value: "extra"}, {Name: "stop", Value: "2"}, {Name: "mean", Value: 4.5}}},
		{Geometry: orb.Point{-101.62, 35.9}, Properties: geo.Properties{{Name: "leaves", Value: int64(60)}}},
	}}
	var b bytes.Buffer
	require.NoError(t, geofile.WriteGeoPackage(&b, []geofile.Layer{stops}))
	c, err := geofile.Decode("x.gpkg", bytes.NewReader(b.Bytes()), geofile.Limits{})
	require.NoError(t, err)
	require.Len(t, c.Features, 3)
	for i, f := range stops.Features {
		for _, name := range []string{"stop", "kind", "mean", "leaves"} {
			want, _ := f.Properties.Get(name)
			got, _ := c.Features[i].Properties.Get(name)
			assert.Equal(t, want, got, "%s of feature %d", name, i+1)
		}
	}

	stops.Features[1].Properties[0].Name = "stop"
	assert.ErrorContains(t, geofile.WriteGeoPackage(&bytes.Buffer{}, []geofile.Layer{stops}), "stands twice")
	stops.Features[1].Properties[0].Name = "Kind of stop"
	assert.ErrorContains(t, geofile.WriteGeoPackage(&bytes.Buffer{}, []geofile.Layer{stops}), "cannot name a column")
}
