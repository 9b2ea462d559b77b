package cli_test

import (
	"bytes"
	"fmt"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/testkit"
)

// looks are the files to be looked at of the demo, which has two fields with stops.
var looks = []string{"map.pdf", "map.png", "map-Pivot.png", "map-Corner-block.png", "map.svg", "map-Pivot.svg", "map-Corner-block.svg", "overview.csv", "overview.xlsx", "report.html", "surface.kmz", "surface.tif"}

const listed = "report.html, map.png, map-Pivot.png, map-Corner-block.png, map.svg, map-Pivot.svg, map-Corner-block.svg, map.pdf, surface.tif, surface.kmz, overview.csv, overview.xlsx"

// drawn is what a map is to write of which pictures are read as texts: elsewhere than in CI
// none of pixels or for paper.
func drawn() string { return []string{"all", "map.svg,report"}[testkit.Few(0, 1)] }

func TestMapWritesFilesToBeLookedAt(t *testing.T) {
	inFolder(t)
	code, out, errs := run(t, week("2", "--details", "--write", "all")...)
	require.Zero(t, code, errs)
	assert.Contains(t, out, listed)
	first := contents(t, "out")
	for _, name := range looks {
		assert.NotEmpty(t, first[name], name)
	}
	assert.Contains(t, first["map-Pivot.svg"], "Spray the red ground, 5.17 ha (12.8 ac), by Saturday 18 July. If it is not sprayed by")
	assert.Contains(t, first["map-Pivot.svg"], "The map is good until Wednesday 22 July.")
	assert.Contains(t, first["report.html"], "The map is good until 2026-07-22")
	for _, name := range []string{"map.png", "map-Pivot.png", "map-Corner-block.png"} {
		img, err := png.DecodeConfig(strings.NewReader(first[name]))
		require.NoError(t, err)
		assert.Equal(t, [2]int{1080, 1920}, [2]int{img.Width, img.Height}, name)
	}

	code, _, errs = run(t, week("2", "--write", "all")...)
	require.Zero(t, code, errs)
	for name, text := range contents(t, "out") {
		assert.True(t, first[name] == text, "%s is not the same", name)
	}

	code, _, errs = run(t, week("2", "--write", "report")...)
	require.Zero(t, code, errs)
	assert.Contains(t, names(t, "out"), "report.html")
	for _, name := range names(t, "out") {
		assert.False(t, strings.HasPrefix(name, "map"), "results of two runs never stand side by side: %s", name)
	}
}

// Where zones go by chance the legend does not speak of counts.
func TestLegendOfZonesByChance(t *testing.T) {
	inFolder(t)
	code, _, errs := run(t, week("2", "--surface", "chance", "--write", "map.svg,report")...)
	require.Zero(t, code, errs)
	for _, name := range []string{"map-Pivot.svg", "report.html"} {
		text := contents(t, "out")[name]
		assert.Contains(t, text, "from a chance of 0.3 of being at or above 40 on", name)
		assert.Contains(t, text, "from a chance of 0.3 of 12.6 or more on, or nobody has been near", name)
		assert.Contains(t, text, "less likely than that, with a stop near", name)
	}
}

// farmOf is so many fields in a row with their counts.
func farmOf(t *testing.T, n int) {
	t.Helper()
	t.Chdir(t.TempDir())
	var features []string
	var rows strings.Builder
	rows.WriteString("stop,longitude,latitude,count\n")
	for i := range n {
		x := -101 + float64(i)*0.004
		features = append(features, fmt.Sprintf(`{"type":"Feature","properties":{"name":"F%d"},"geometry":{"type":"Polygon","coordinates":[[[%[2]f,35],[%[3]f,35],[%[3]f,35.002],[%[2]f,35.002],[%[2]f,35]]]}}`,
			i, x, x+0.002))
		for k := range 3 {
			fmt.Fprintf(&rows, "%d-%d,%f,%f,%d\n", i, k, x+0.0005*float64(k+1), 35.001, 10*k)
		}
	}
	require.NoError(t, os.WriteFile("farm.geojson", []byte(`{"type":"FeatureCollection","features":[`+strings.Join(features, ",")+`]}`), 0o644))
	require.NoError(t, os.WriteFile("morning.csv", []byte(rows.String()), 0o644))
}

// Many fields have a small overview in pages and a picture each, none of which grows with
// their number; a hundred have one of their own, and those that have none are named.
func TestPicturesOfManyFields(t *testing.T) {
	farmOf(t, 102)
	const note = "shows all fields, but only the first 100 have a picture of their own, not F100, F101"
	code, out, errs := run(t, "map", "morning.csv", "--details", "--field", "farm.geojson", "--out", "out", "--treat-at", "40", "--write", "map.svg")
	require.Zero(t, code, errs)
	assert.Contains(t, out, "map.svg "+note)
	assert.Contains(t, out, "map.svg, map-*.svg (104)", "100 fields and four more pages of the overview")
	there := names(t, "out")
	for _, name := range []string{"map-F0.svg", "map-F99.svg", "map-overview-2.svg", "map-overview-5.svg"} {
		assert.Contains(t, there, name)
	}
	assert.NotContains(t, there, "map-F100.svg")
	shown := ""
	for name, text := range contents(t, "out") {
		if strings.HasPrefix(name, "map") {
			assert.Less(t, len(text), 300_000, name)
		}
		if name == "map.svg" || strings.HasPrefix(name, "map-overview") {
			shown += text
		}
	}
	for i := range 102 {
		assert.Contains(t, shown, fmt.Sprintf(">F%d</text>", i))
	}
	code, out, errs = run(t, "report", "out", "--write", "map.pdf")
	require.Zero(t, code, errs)
	assert.NotContains(t, out, "shows all fields")
}

// Pictures of fields are the command's own where the folder tells of such a field, and
// no other file is: neither those that look like them, nor in a folder without a map.
func TestWhosePicturesAreInAFolder(t *testing.T) {
	inFolder(t)
	require.NoError(t, os.Mkdir("out", 0o755))
	require.NoError(t, os.WriteFile("out/map-Pivot.png", []byte("mine"), 0o644))
	code, _, errs := run(t, week("2")...)
	assert.Equal(t, 1, code, "nobody mapped here")
	assert.Contains(t, errs, "holds other files, such as map-Pivot.png")
	require.NoError(t, os.Remove("out/map-Pivot.png"))

	code, _, errs = run(t, week("2", "--write", "map.png")...)
	require.Zero(t, code, errs)
	require.NoError(t, os.WriteFile("out/map-Mine.png", []byte("mine"), 0o644))
	code, _, errs = run(t, week("3")...)
	assert.Equal(t, 1, code)
	assert.Contains(t, errs, "holds other files, such as map-Mine.png")
	code, _, errs = run(t, week("3", "--force")...)
	require.Zero(t, code, errs)
	there := names(t, "out")
	assert.Contains(t, there, "map-Mine.png")
	assert.NotContains(t, there, "map-Pivot.png")
	assert.NotContains(t, there, "map-Corner-block.png")
}

// report makes the very files that map would have made.
func TestReportOfAFolder(t *testing.T) {
	for name, more := range map[string][]string{
		"published level": nil,
		"own level":       {"--treat-at", "30", "--watch-at", "10", "--units", "us", "--neighbors", "all"},
		"chance":          {"--surface", "chance"},
	} {
		if name != "own level" && !testkit.Strict() {
			continue
		}
		t.Run(name, func(t *testing.T) {
			inFolder(t)
			code, _, errs := run(t, week("3", append(more, "--write", "all")...)...)
			require.Zero(t, code, errs)
			want := contents(t, "out")
			for _, f := range looks {
				require.NoError(t, os.Remove(filepath.Join("out", f)))
			}
			code, out, errs := run(t, "report", "out", "--write", "all")
			require.Zero(t, code, errs)
			assert.Equal(t, "Files in out: "+listed+"\n", out)
			for f, text := range contents(t, "out") {
				assert.True(t, want[f] == text, "%s is not the same", f)
			}
		})
	}
}

func TestReportHelp(t *testing.T) {
	code, out, _ := run(t, "report", "--help")
	assert.Zero(t, code)
	assert.Equal(t, string(testkit.Golden(t, filepath.Join("cli", "help_report.txt"), []byte(out))), out)
}

func TestReportRefuses(t *testing.T) {
	for name, tc := range map[string]struct {
		args   []string
		before func(t *testing.T)
		code   int
		want   string
	}{
		"no folder":      {[]string{"report"}, nil, 2, "FOLDER is missing"},
		"not a result":   {[]string{"report", "."}, nil, 1, "is no folder that map wrote, but holds one\nhint: give out\n"},
		"unknown file":   {[]string{"report", "out", "--write", "map.gif"}, nil, 2, "want report, map.png"},
		"unknown in map": {week("2", "--write", "map.gif"), nil, 2, "surface.kmz, overview, or all for all of these; or zones.geojsons, zones.gpkg"},
		"changed input": {[]string{"report", "out"}, func(t *testing.T) {
			text, err := os.ReadFile("week2.csv")
			require.NoError(t, err)
			require.NoError(t, os.WriteFile("week2.csv", bytes.Replace(text, []byte("A"), []byte("B"), 1), 0o644))
		}, 1, "week2.csv has changed since it was mapped"},
		"lost input": {[]string{"report", "out"}, func(t *testing.T) { require.NoError(t, os.Remove("week2.csv")) }, 1, "put week2.csv into out, or run this where map ran"},
		"other record": {[]string{"report", "out"}, func(t *testing.T) {
			require.NoError(t, os.WriteFile("out/run.json", []byte(`{"program": "geocoris", "command": "compare"}`), 0o644))
		}, 1, "was not written by map"},
	} {
		t.Run(name, func(t *testing.T) {
			inFolder(t)
			code, _, errs := run(t, week("2")...)
			require.Zero(t, code, errs)
			if tc.before != nil {
				tc.before(t)
			}
			code, _, errs = run(t, tc.args...)
			assert.Equal(t, tc.code, code)
			assert.Contains(t, errs, tc.want)
		})
	}
}

// GDAL reads the surface, pdfinfo the overview and the pages of the two fields, xmllint the
// drawing.
func TestOutsidersReadFilesToBeLookedAt(t *testing.T) {
	testkit.WantProgram(t, "gdalinfo")
	inFolder(t)
	code, _, errs := run(t, week("2", "--write", "all")...)
	require.Zero(t, code, errs)
	for _, tc := range []struct {
		want string
		args []string
	}{
		{`ID["EPSG",32614]`, []string{"gdalinfo", "out/surface.tif"}},
		{"Pages:           3", []string{"pdfinfo", "out/map.pdf"}},
		{"5.17 ha (12.8 ac), 10.3 %; 4 stops", []string{"pdftotext", "-layout", "out/map.pdf", "-"}},
		{"", []string{"xmllint", "--noout", "--nonet", "out/map.svg", "out/map-Pivot.svg"}},
	} {
		if _, err := exec.LookPath(tc.args[0]); err != nil {
			testkit.Missing(t, tc.args[0])
		}
		out, err := exec.Command(tc.args[0], tc.args[1:]...).CombinedOutput()
		require.NoError(t, err, string(out))
		assert.Contains(t, string(out), tc.want)
	}
}

func TestCompareWritesAPage(t *testing.T) {
	inFolder(t)
	args := []string{"compare", "week1.csv", "week2.csv", "week3.csv", "--field", "field.geojson", "--out", "change", "--write"}
	code, out, errs := run(t, append(args, "report")...)
	require.Zero(t, code, errs)
	assert.Contains(t, out, "report.html")
	assert.True(t, strings.Contains(contents(t, "change")["report.html"], "From ground to ground, Wednesday 15 July to Wednesday 22 July"))
	code, _, errs = run(t, append(args, "map.png")...)
	assert.Equal(t, 2, code)
	assert.Contains(t, errs, "compare makes a report only")
}
