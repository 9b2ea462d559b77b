package cli_test

import (
	"encoding/csv"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/testkit"
)

func planned(more ...string) []string {
	return append([]string{"plan", "--field", "field.geojson", "--only", "pivot", "--out", "walk"}, more...)
}

var planFiles = []string{"sheet.html", "stops.csv", "stops.geojson", "stops.gpx", "stops.kml"}

func TestPlanScreens(t *testing.T) {
	for name, args := range map[string][]string{
		"help_plan":      {"plan", "--help"},
		"plan_edge":      planned("--stops", "24", "--edge", "6", "--start", "-101.6053,35.8925"),
		"plan_precision": planned("--precision", "0.25", "--taylor", "2.586,1.511", "--expect", "10", "--heading", "15", "--one-way"),
	} {
		t.Run(name, func(t *testing.T) {
			inFolder(t)
			code, out, errs := run(t, args...)
			assert.Zero(t, code, errs)
			assert.Empty(t, errs)
			assert.Equal(t, string(testkit.Golden(t, filepath.Join("cli", name+".txt"), []byte(out))), out)
			if !strings.HasPrefix(name, "help") {
				assert.Equal(t, planFiles, names(t, "walk"))
			}
		})
	}
}

func TestFurtherStopsAfterAMap(t *testing.T) {
	inFolder(t)
	code, _, errs := run(t, week("2")...)
	require.Zero(t, code, errs)
	code, out, errs := run(t, planned("--after", "out", "--add", "5", "--start", "-101.6053,35.8925")...)
	require.Zero(t, code, errs)
	assert.Equal(t, planFiles, names(t, "walk"))
	assert.Equal(t, string(testkit.Golden(t, filepath.Join("cli", "plan_after.txt"), []byte(out))), out)
	assert.Contains(t, contents(t, "walk")["stops.csv"], "\nA5,")
	assert.Contains(t, contents(t, "walk")["stops.geojson"], "gain_m2")
	for name, tc := range map[string]struct {
		args []string
		code int
		want string
	}{
		"no number":    {planned("--after", "out"), 2, "wants --add"},
		"two numbers":  {planned("--after", "out", "--add", "3", "--stops", "4"), 2, "no other number"},
		"no map":       {planned("--add", "3"), 2, "--add is for --after"},
		"no folder":    {planned("--after", "walk", "--add", "3"), 1, "a folder that map wrote"},
		"no such edge": {planned("--after", "out", "--add", "3", "--edge", "2"), 1, "leave out edge"},
	} {
		t.Run(name, func(t *testing.T) {
			code, _, errs := run(t, tc.args...)
			assert.Equal(t, tc.code, code, errs)
			assert.Contains(t, errs, tc.want)
		})
	}
}

func TestPlanIsRepeatable(t *testing.T) {
	inFolder(t)
	code, _, errs := run(t, planned("--stops", "12", "--edge", "2")...)
	require.Zero(t, code, errs)
	first := contents(t, "walk")
	code, _, errs = run(t, planned("--stops", "12", "--edge", "2")...)
	assert.Equal(t, 1, code)
	assert.Contains(t, errs, "is there already")
	code, _, errs = run(t, planned("--stops", "12", "--edge", "2", "--force")...)
	require.Zero(t, code, errs)
	assert.Equal(t, first, contents(t, "walk"))
	code, _, errs = run(t, planned("--stops", "12", "--edge", "2", "--force", "--seed", "2")...)
	require.Zero(t, code, errs)
	assert.NotEqual(t, first["stops.csv"], contents(t, "walk")["stops.csv"])
}

// The empty table goes to map as soon as counts are in it; before, every row is
// named and set aside, since a blank is not a zero.
func TestPlannedTableIsReadByMap(t *testing.T) {
	inFolder(t)
	code, _, errs := run(t, planned("--stops", "12", "--pest", "sorghum aphid")...)
	require.Zero(t, code, errs)
	code, _, errs = run(t, "map", "walk/stops.csv", "--field", "field.geojson", "--out", "out")
	assert.Equal(t, 1, code)
	assert.Contains(t, errs, "blank")
	rows, err := csv.NewReader(strings.NewReader(contents(t, "walk")["stops.csv"])).ReadAll()
	require.NoError(t, err)
	for i := range rows[1:] {
		rows[i+1][3] = []string{"0", "600", "40"}[i%3]
	}
	f, err := os.Create("filled.csv")
	require.NoError(t, err)
	require.NoError(t, csv.NewWriter(f).WriteAll(rows))
	require.NoError(t, f.Close())
	code, out, errs := run(t, "map", "filled.csv", "--field", "field.geojson", "--out", "out", "--json")
	require.Zero(t, code, errs)
	var summary struct{ Rows struct{ Read, Used int } }
	require.NoError(t, json.Unmarshal([]byte(out), &summary))
	assert.Equal(t, 12, summary.Rows.Used)
}

func TestPlannedFilesAreReadBack(t *testing.T) {
	inFolder(t)
	code, _, errs := run(t, planned("--stops", "12", "--edge", "3")...)
	require.Zero(t, code, errs)
	for _, name := range []string{"stops.gpx", "stops.kml", "stops.geojson"} {
		c, err := geofile.Read(filepath.Join("walk", name), geofile.Limits{})
		require.NoError(t, err, name)
		assert.GreaterOrEqual(t, len(c.Features), 15, name)
	}
	sheet := contents(t, "walk")["sheet.html"]
	assert.Equal(t, 15, strings.Count(sheet, `<tbody class="stop">`))
	assert.Equal(t, 3, strings.Count(sheet, ">edge</td>"))
}

func TestPlanRefusals(t *testing.T) {
	for name, tc := range map[string]struct {
		args []string
		code int
		want string
	}{
		"no number":      {planned(), 2, "how many stops"},
		"both numbers":   {planned("--stops", "5", "--precision", ".2"), 2, "give one"},
		"no law":         {planned("--precision", ".2", "--expect", "10"), 2, "--taylor"},
		"no mean":        {planned("--precision", ".2", "--taylor", "2,1.5"), 2, "--expect"},
		"too precise":    {planned("--precision", ".0001", "--taylor", "2,1.5", "--expect", "1"), 2, "ask for less"},
		"no position":    {planned("--stops", "5", "--start", "100"), 2, "longitude,latitude"},
		"off the earth":  {planned("--stops", "5", "--start", "100,95"), 2, "longitude,latitude"},
		"no direction":   {planned("--stops", "5", "--heading", "north"), 2, "degrees from north"},
		"far inside":     {planned("--stops", "5", "--inside", "5000"), 1, "room for 0 stops"},
		"no leaves":      {planned("--stops", "5", "--leaves", "0"), 2, "1 or more"},
		"several fields": {[]string{"plan", "--field", "field.geojson", "--stops", "5", "--out", "walk"}, 1, "--only NAME"},
		"a bare point":   {planned("--stops", "5", "--keep-off", "hives.geojson"), 1, `feature 1 ("hives") in line 2 is a point, which has no ground of its own: give its set-back, such as --keep-off hives.geojson=50m`},
		"no length":      {planned("--stops", "5", "--keep-off", "hives.geojson=far"), 2, "is not a length"},
		"no field":       {[]string{"plan", "--stops", "5", "--out", "walk"}, 2, "--field is missing"},
		"no folder":      {[]string{"plan", "--stops", "5", "--field", "field.geojson"}, 2, "--out is missing"},
	} {
		t.Run(name, func(t *testing.T) {
			inFolder(t)
			require.NoError(t, os.WriteFile("hives.geojson", []byte(hives), 0o666))
			code, _, errs := run(t, tc.args...)
			assert.Equal(t, tc.code, code, errs)
			assert.Contains(t, errs, tc.want)
			assert.Empty(t, names(t, "walk"))
		})
	}
}

func TestNobodyStopsOnGroundKeptOff(t *testing.T) {
	inFolder(t)
	c, err := geofile.Read("field.geojson", geofile.Limits{})
	require.NoError(t, err)
	b := c.Features[0].Geometry.Bound()
	middle, edge := (b.Min[0]+b.Max[0])/2, 0.001
	west := [][][2]float64{{{b.Min[0] - edge, b.Min[1] - edge}, {middle, b.Min[1] - edge}, {middle, b.Max[1] + edge}, {b.Min[0] - edge, b.Max[1] + edge}, {b.Min[0] - edge, b.Min[1] - edge}}}
	text, err := json.Marshal(map[string]any{"type": "Feature", "properties": map[string]any{}, "geometry": map[string]any{"type": "Polygon", "coordinates": west}})
	require.NoError(t, err)
	require.NoError(t, os.WriteFile("keep.geojson", text, 0o666))
	code, _, errs := run(t, planned("--stops", "10", "--keep-off", "keep.geojson")...)
	require.Zero(t, code, errs)
	stops, err := geofile.Read("walk/stops.geojson", geofile.Limits{})
	require.NoError(t, err)
	points := 0
	for _, f := range stops.Features {
		if f.Geometry.GeoJSONType() == "Point" {
			points++
			assert.Greater(t, f.Geometry.Bound().Min[0], middle)
		}
	}
	assert.Equal(t, 10, points)
}

func TestNobodyStopsWithinASetBack(t *testing.T) {
	inFolder(t)
	require.NoError(t, os.WriteFile("hives.geojson", []byte(hives), 0o666))
	code, _, errs := run(t, planned("--stops", "60", "--keep-off", "hives.geojson=120m")...)
	require.Zero(t, code, errs)
	stops, err := geofile.Read("walk/stops.geojson", geofile.Limits{})
	require.NoError(t, err)
	for _, f := range stops.Features {
		if f.Geometry.GeoJSONType() == "Point" {
			at := f.Geometry.Bound().Min
			north, east := (at[1]-35.8995)*110950, (at[0]+101.598)*90250 // metres, by the radii of curvature at 35.9°
			assert.Greater(t, math.Hypot(north, east), 119.9)
		}
	}
}
