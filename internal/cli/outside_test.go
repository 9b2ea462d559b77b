package cli_test

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/geometry/boundary"
	"github.com/geocoris/geocoris/internal/testkit"
)

// The files of a run pass checkers that are not ours: RFC 7946, the OGC schema of
// KML through xmllint, what the schema cannot see.
func TestFilesPassOutsideCheckers(t *testing.T) {
	for _, week := range [][]string{week("1"), week("2", "--margin", "20"), week("3", "--min-area", "0", "--simplify", "0")} {
		inFolder(t)
		code, _, errs := run(t, week...)
		require.Zero(t, code, errs)
		testkit.Program(t, nil, "python3", testkit.Shared(t, "validators", "geojson7946.py"), "out/zones.geojson", "out/stops.geojson")
		testkit.Program(t, nil, "python3", testkit.Shared(t, "validators", "kmlcheck.py"), "out/zones.kml", "out/zones.kmz")
		testkit.Program(t, []string{"XML_CATALOG_FILES=" + testkit.Shared(t, "schemas", "kml", "catalog.xml")},
			"xmllint", "--nonet", "--noout", "--schema", testkit.Shared(t, "schemas", "kml", "ogckml22.xsd"), "out/zones.kml")
	}
}

// GDAL reads zones from all three files with the areas that their properties
// name: it writes what it read as GeoJSON of its own, which is measured.
func TestGDALReadsTheSameAreas(t *testing.T) {
	inFolder(t)
	code, _, errs := run(t, week("3", "--margin", "10")...)
	require.Zero(t, code, errs)
	want := namedAreas(t)
	require.GreaterOrEqual(t, len(want), 5)
	for _, file := range []string{"zones.geojson", "zones.kml", "zones.kmz"} {
		layers := []string{"Pivot", "Corner block"}
		if file == "zones.geojson" {
			layers = []string{"zones"}
		}
		var got []float64
		for _, layer := range layers {
			back := strings.ReplaceAll(file+layer, " ", "") + ".geojson"
			testkit.Program(t, nil, "ogr2ogr", "-f", "GeoJSON", back, filepath.Join("out", file), layer)
			got = append(got, measuredAreas(t, back)...)
		}
		require.Len(t, got, len(want), file)
		for i := range want {
			// The property is rounded to a square metre, vertices to 11 mm.
			assert.InDelta(t, want[i], got[i], 2+1e-5*want[i], "%s, zone %d", file, i+1)
		}
	}
}

func namedAreas(t *testing.T) (areas []float64) {
	raw, err := os.ReadFile("out/zones.geojson")
	require.NoError(t, err)
	var fc struct {
		Features []struct {
			Properties struct{ Area_ha float64 }
		}
	}
	require.NoError(t, json.Unmarshal(raw, &fc))
	for _, f := range fc.Features {
		areas = append(areas, f.Properties.Area_ha*geo.SquareMetresPerHectare)
	}
	return areas
}

// measuredAreas also holds the polygons to validity: what is not valid would be
// corrected with a note.
func measuredAreas(t *testing.T, path string) (areas []float64) {
	c, err := geofile.Read(path, geofile.Limits{})
	require.NoError(t, err)
	for i := range c.Features { // a zone is known by its properties, and no field
		c.Features[i].Properties = nil
	}
	fields, notes, err := boundary.Fields(c.Features, boundary.Settings{})
	require.NoError(t, err)
	for _, note := range notes {
		assert.NotContains(t, note, "crosses")
	}
	for _, f := range fields {
		frame, err := geo.FrameOf(f.Boundary)
		require.NoError(t, err)
		areas = append(areas, geo.Area(frame.ForwardPolygons(f.Boundary)))
	}
	return areas
}
