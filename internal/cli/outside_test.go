package cli_test

import (
	"encoding/json"
	"os"
	"os/exec"
	"regexp"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/encoding/wkt"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/testkit"
)

// program runs a program that is not ours.
func program(t *testing.T, env []string, name string, args ...string) string {
	t.Helper()
	if _, err := exec.LookPath(name); err != nil {
		testkit.Missing(t, name)
	}
	cmd := exec.Command(name, args...)
	cmd.Env = append(os.Environ(), env...)
	out, err := cmd.CombinedOutput()
	require.NoError(t, err, "%s: %s", name, out)
	return string(out)
}

// The files of a run pass checkers that are not ours: RFC 7946, the OGC schema of
// KML through xmllint, what the schema cannot see.
func TestFilesPassOutsideCheckers(t *testing.T) {
	for _, week := range [][]string{week("1"), week("2", "--margin", "20"), week("3", "--min-area", "0", "--simplify", "0")} {
		inFolder(t)
		code, _, errs := run(t, week...)
		require.Zero(t, code, errs)
		program(t, nil, "python3", testkit.Shared(t, "validators", "geojson7946.py"), "out/zones.geojson", "out/stops.geojson")
		program(t, nil, "python3", testkit.Shared(t, "validators", "kmlcheck.py"), "out/zones.kml", "out/zones.kmz")
		program(t, []string{"XML_CATALOG_FILES=" + testkit.Shared(t, "schemas", "kml", "catalog.xml")},
			"xmllint", "--nonet", "--noout", "--schema", testkit.Shared(t, "schemas", "kml", "ogckml22.xsd"), "out/zones.kml")
	}
}

var wktLine = regexp.MustCompile(`(?m)^\s*((?:MULTI)?POLYGON .*|GEOMETRYCOLLECTION .*)$`)

// GDAL reads zones from all three files as valid as GEOS will have them, with the
// areas that their properties name.
func TestGDALReadsTheSameAreas(t *testing.T) {
	inFolder(t)
	code, _, errs := run(t, week("3", "--margin", "10")...)
	require.Zero(t, code, errs)
	want := namedAreas(t)
	require.GreaterOrEqual(t, len(want), 5)
	for _, file := range []string{"out/zones.geojson", "out/zones.kml", "out/zones.kmz"} {
		out := program(t, nil, "ogrinfo", "-ro", "-al", file)
		var got []float64
		for _, m := range wktLine.FindAllStringSubmatch(out, -1) {
			got = append(got, areaOfWKT(t, m[1]))
		}
		require.Len(t, got, len(want), file)
		for i := range want {
			// A square metre of rounding in the property, 11 mm in the vertices.
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

func areaOfWKT(t *testing.T, text string) (sum float64) {
	g, err := wkt.Unmarshal(strings.TrimSpace(text))
	require.NoError(t, err)
	var parts orb.MultiPolygon
	switch g := g.(type) {
	case orb.Polygon:
		parts = orb.MultiPolygon{g}
	case orb.MultiPolygon:
		parts = g
	case orb.Collection:
		for _, p := range g {
			parts = append(parts, p.(orb.Polygon))
		}
	}
	frame, err := geo.FrameOf(parts)
	require.NoError(t, err)
	return geo.Area(frame.ForwardPolygons(parts))
}
