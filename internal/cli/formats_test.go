package cli_test

import (
	"os"
	"path/filepath"
	"regexp"
	"testing"

	"bytes"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/cli"
	"github.com/geocoris/geocoris/internal/testkit"
)

var fieldName = regexp.MustCompile(`"field":"[^"]*"`)

// zonesOf maps the point set of the reference folder on one of its boundaries. The
// name of the field, which not every format carries, is taken out.
func zonesOf(t *testing.T, samples, boundary string, more ...string) string {
	t.Helper()
	out := filepath.Join(t.TempDir(), "out")
	args := append([]string{"map", testkit.Shared(t, "data", "formats", samples), "--field", testkit.Shared(t, "data", "formats", boundary),
		"--out", out, "--treat-at", "20", "--watch-at", "5", "--quiet"}, more...)
	code, _, errs := run(t, args...)
	require.Zero(t, code, errs)
	zones, err := os.ReadFile(filepath.Join(out, "zones.geojson"))
	require.NoError(t, err)
	return fieldName.ReplaceAllString(string(zones), `"field":""`)
}

// One field, whatever file it comes in, has the same zones to the byte.
func TestOneFieldInEveryFormat(t *testing.T) {
	want := zonesOf(t, "points_plain.csv", "poly_rfc7946.geojson")
	for _, boundary := range []string{
		"poly_3d.geojson", "poly_bom.geojson", "poly_crlf.geojson", "poly_bare_feature.geojson", "poly_bare_geometry.geojson",
		"poly_exponent_numbers.geojson", "poly_utf16le_bom.geojson", "poly_geometrycollection.geojson",
		"poly_libkml.kml", "poly_kmldrv.kml", "field.kmz", "poly_altitude.kml", "poly_coords_newlines_tabs.kml", "poly_prefixed.kml",
		"poly_kml21_ns.kml", "poly_no_namespace.kml", "poly_latin1.kml", "poly_utf16_bom.kml", "poly_space_after_comma.kml",
		"poly_wgs84_shp.zip", "poly_latin1_shp.zip",
	} {
		assert.Equal(t, want, zonesOf(t, "points_plain.csv", boundary), boundary)
	}
}

// The same counts, whatever file they come in, have the same zones to the byte
// where all digits of the positions are kept.
func TestOneSurveyInEveryFormat(t *testing.T) {
	want := zonesOf(t, "points_plain.csv", "poly_rfc7946.geojson")
	for samples, more := range map[string][]string{
		"points_bom.csv": nil, "points_crlf.csv": nil, "points_cr_only.csv": nil, "points_tab.csv": nil, "points_quoted_all.csv": nil,
		"points_semicolon_decimal_comma.csv": nil, "points_utf16le_bom.csv": nil, "points_utf16be_bom.csv": nil, "points_latin1.csv": nil,
		"points_us_dates_header_variants.csv": nil, "points_wkt.csv": nil, "points_hemisphere_prefix.csv": nil,
		"points_no_header.csv": {"--columns", "stop,date,latitude,longitude,count"},
		"points.geojson":       nil, "points.gpx": nil, "points_libkml.kml": nil, "points_wgs84_shp.zip": nil,
	} {
		assert.Equal(t, want, zonesOf(t, samples, "poly_rfc7946.geojson", more...), samples)
	}
}

func TestFieldsInUTMHaveTheSameArea(t *testing.T) {
	want := areaOf(t, "poly_rfc7946.geojson")
	for _, boundary := range []string{"poly_utm30_shp.zip", "poly_crs_utm30.geojson"} {
		assert.InEpsilon(t, want, areaOf(t, boundary), 1e-7, boundary)
	}
	// The track goes round the pond's ground too.
	assert.InEpsilon(t, 52235.15796691179, areaOf(t, "boundary_track.gpx"), 1e-7)
	assert.InEpsilon(t, 52235.15796691179, areaOf(t, "linestring_closed.kml"), 1e-7)
}

func areaOf(t *testing.T, boundary string) (area float64) {
	for _, a := range measuredAreas(t, testkit.Shared(t, "data", "formats", boundary)) {
		area += a
	}
	return area
}

func TestSamplesByStandardInput(t *testing.T) {
	inFolder(t)
	text, err := os.ReadFile("week2.csv")
	require.NoError(t, err)
	var o, e bytes.Buffer
	code := cli.Run(t.Context(), []string{"map", "-", "--field", "field.geojson", "--out", "out"}, cli.Streams{In: bytes.NewReader(text), Out: &o, Err: &e})
	require.Zero(t, code, e.String())
	fromPipe := contents(t, "out")
	assert.Contains(t, fromPipe["run.json"], `"path": "-"`)
	code, _, errs := run(t, "report", "out")
	assert.Equal(t, 1, code)
	assert.Contains(t, errs, "the samples came by standard input, so they cannot be read again\nhint: make the files with map --write\n")
	code, _, errs = run(t, "compare", "out", "week3.csv", "--out", "cmp")
	assert.Equal(t, 1, code)
	assert.Contains(t, errs, "out was made from -: the samples came by standard input, so they cannot be read again\nhint: give the files of counts themselves\n")
	code, _, errs = run(t, "map", "-", "--field", "field.geojson", "--out", "none")
	assert.Equal(t, 1, code)
	assert.Contains(t, errs, "standard input is not at hand")
	code, _, errs = run(t, week("2")...)
	require.Zero(t, code, errs)
	assert.Equal(t, contents(t, "out")["zones.geojson"], fromPipe["zones.geojson"])
}

func TestColumnsUnderOtherNames(t *testing.T) {
	inFolder(t)
	require.NoError(t, os.WriteFile("own.csv", []byte("where,lon,lat,bugs,east,north\nA,-101.6,35.9,3,1,2\n"), 0o600))
	base := []string{"map", "own.csv", "--field", "field.geojson", "--out", "out"}
	code, _, errs := run(t, append(base, "--map", "where=stop", "--map", "bugs=count")...)
	assert.Zero(t, code, errs)
	for _, bad := range [][]string{{"--map", "where"}, {"--map", "=stop"}, {"--utm", "14X"}} {
		code, _, _ := run(t, append(base, bad...)...)
		assert.Equal(t, 2, code, bad)
	}
}
