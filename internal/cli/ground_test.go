package cli_test

import (
	"encoding/json"
	"fmt"
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// square is an outline in thousandths of a degree from -101.6, 35.9, some 90 by 111 m.
func square(x0, y0, x1, y1 float64) string {
	var places []string
	for _, p := range [][2]float64{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}, {x0, y0}} {
		places = append(places, fmt.Sprintf("[%.5f,%.5f]", -101.6+p[0]/1000, 35.9+p[1]/1000))
	}
	return "[" + strings.Join(places, ",") + "]"
}

func outline(name string, rings ...string) string {
	return fmt.Sprintf(`{"type":"Feature","properties":{"name":%q},"geometry":{"type":"Polygon","coordinates":[%s]}}`, name, strings.Join(rings, ","))
}

// farm makes the working folder hold a boundary of the outlines and hot stops at
// places in thousandths of a degree.
func drawnFarm(t *testing.T, outlines []string, places ...[2]float64) {
	t.Helper()
	inFolder(t)
	text := `{"type":"FeatureCollection","features":[` + strings.Join(outlines, ",") + `]}`
	require.NoError(t, os.WriteFile("farm.geojson", []byte(text), 0o644))
	table := "stop,longitude,latitude,count,leaves,date\n"
	for i, p := range places {
		table += fmt.Sprintf("%d,%.6f,%.6f,900,10,2031-07-15\n", i+1, -101.6+p[0]/1000, 35.9+p[1]/1000)
	}
	require.NoError(t, os.WriteFile("counts.csv", []byte(table), 0o644))
}

func mapFarm(more ...string) []string {
	return append([]string{"map", "counts.csv", "--field", "farm.geojson", "--out", "out"}, more...)
}

// around is stops on a net over four by four thousandths.
func around(x, y float64) (places [][2]float64) {
	for _, dx := range []float64{0.5, 1.5, 2.5, 3.5} {
		for _, dy := range []float64{0.5, 1.5, 2.5, 3.5} {
			places = append(places, [2]float64{x + dx, y + dy})
		}
	}
	return places
}

// zoneHectares is the ground of each field in summary.json.
func zoneHectares(t *testing.T) map[string]float64 {
	var s struct {
		Fields []struct {
			Field string
			Area  float64 `json:"area_ha"`
		}
		Notes []string
	}
	text, err := os.ReadFile("out/summary.json")
	require.NoError(t, err)
	require.NoError(t, json.Unmarshal(text, &s))
	out := map[string]float64{}
	for _, f := range s.Fields {
		out[f.Field] = f.Area
	}
	return out
}

// One thousandth of a degree squared is 1.0022 ha there, by the radii of curvature
// of WGS 84 at 35.902°.
const thousandth = 1.0022

func TestAPondOverTheEdgeIsNotSprayed(t *testing.T) {
	drawnFarm(t, []string{outline("A", square(0, 0, 4, 4), square(3, 1, 5, 2))}, around(0, 0)...)
	code, _, errs := run(t, mapFarm()...)
	require.Zero(t, code, errs)
	assert.InDelta(t, 15*thousandth, zoneHectares(t)["A"], 0.01)
	for _, from := range []string{"out", "out/zones.geojson"} {
		for _, sections := range []string{"1", "12"} {
			code, _, errs = run(t, "handoff", from, "--swath", "24m", "--sections", sections, "--out", "job", "--against-verdict", "--whole-field")
			require.Zero(t, code, errs)
			for _, file := range []string{"job/ground.geojson", "job/swaths.geojson"} {
				for _, x := range positions(t, file) { // from -101.597 to -101.595, and 1 cm
					inside := x[0] > -101.597+1e-7 && x[1] > 35.901+1e-7 && x[1] < 35.902-1e-7
					assert.False(t, inside, "%s by %s sections: %v lies in the pond", file, sections, x)
				}
			}
			assert.Contains(t, contents(t, "job")["jobsheet.html"], "hole over the edge of A")
		}
	}
	// Where there is no such ground any more, no file tells of it.
	require.FileExists(t, "out/closed.geojson")
	whole := `{"type":"FeatureCollection","features":[` + outline("A", square(0, 0, 4, 4)) + `]}`
	require.NoError(t, os.WriteFile("farm.geojson", []byte(whole), 0o644))
	code, _, errs = run(t, mapFarm()...)
	require.Zero(t, code, errs)
	assert.NoFileExists(t, "out/closed.geojson")
}

// positions are all of a GeoJSON file, longitude and latitude.
func positions(t *testing.T, path string) (all [][2]float64) {
	t.Helper()
	text, err := os.ReadFile(path)
	require.NoError(t, err)
	for _, m := range regexp.MustCompile(`\[(-?\d+\.?\d*),(-?\d+\.?\d*)\]`).FindAllStringSubmatch(string(text), -1) {
		var at [2]float64
		for i := range at {
			at[i], err = strconv.ParseFloat(m[i+1], 64)
			require.NoError(t, err)
		}
		all = append(all, at)
	}
	require.NotEmpty(t, all, path)
	return all
}

func TestAnOutlineInsideAnotherIsAskedFor(t *testing.T) {
	two := []string{outline("A", square(0, 0, 4, 4)), outline("B", square(1, 1, 2, 2))}
	var dry [][2]float64
	for _, p := range around(0, 0) {
		if p[0] < 1 || p[0] > 2 {
			dry = append(dry, p)
		}
	}
	ask := `farm.geojson: outline "B" lies inside field "A" and has no stops: is it a pond or other ground that is no field (--inner hole), or a field of its own (--inner field)?`
	for _, args := range [][]string{
		mapFarm(), {"season", "add", "season.gpkg", "counts.csv", "--field", "farm.geojson"},
		{"compare", "counts.csv", "counts.csv", "--field", "farm.geojson", "--out", "change"},
	} {
		drawnFarm(t, two, dry...)
		code, _, errs := run(t, args...)
		assert.Equal(t, 1, code, args)
		assert.Contains(t, errs, ask, args)
	}
	drawnFarm(t, two, dry...)
	_, out, _ := run(t, "check", "counts.csv", "--field", "farm.geojson")
	assert.Contains(t, out, "note: "+ask)

	code, out, errs := run(t, mapFarm("--details", "--inner", "hole")...)
	require.Zero(t, code, errs)
	assert.InDelta(t, 15*thousandth, zoneHectares(t)["A"], 0.01)
	assert.NotContains(t, out, "not scouted")
	// What was asked for is kept with the map, for those who work it out again.
	code, _, errs = run(t, "report", "out")
	assert.Zero(t, code, errs)

	code, out, errs = run(t, mapFarm("--details", "--inner", "field")...)
	require.Zero(t, code, errs)
	assert.InDelta(t, 15*thousandth, zoneHectares(t)["A"], 0.01)
	assert.Contains(t, out, "B, 1.00 ha")
	assert.Contains(t, out, "not scouted")

	drawnFarm(t, two, around(0, 0)...) // with a stop in it
	code, _, errs = run(t, mapFarm()...)
	require.Zero(t, code, errs)
	assert.InDelta(t, 15*thousandth, zoneHectares(t)["A"], 0.01)
	assert.InDelta(t, thousandth, zoneHectares(t)["B"], 0.01)

	code, _, errs = run(t, mapFarm("--inner", "pond")...)
	assert.Equal(t, 2, code)
	assert.Contains(t, errs, "want hole or field")
	require.NoError(t, os.WriteFile("farm.toml", []byte("inner = \"hole\"\n"), 0o644))
	code, _, errs = run(t, mapFarm("--settings", "farm.toml")...)
	assert.Zero(t, code, errs)
	assert.NotContains(t, zoneHectares(t), "B")
}

func TestOverlapOfFieldsIsSaid(t *testing.T) {
	drawnFarm(t, []string{outline("A", square(0, 0, 4, 4)), outline("B", square(3.5, 0, 6.5, 4))}, append(around(0, 0), around(3, 0)...)...)
	code, out, errs := run(t, mapFarm("--details")...)
	require.Zero(t, code, errs)
	said := `fields "B" and "A" overlap by 2.00 ha: that ground goes to "B", the smaller one, and to no other`
	assert.Contains(t, out, "farm.geojson: "+said)
	area := zoneHectares(t)
	assert.InDelta(t, 14*thousandth, area["A"], 0.01)
	assert.InDelta(t, 12*thousandth, area["B"], 0.01)
	for _, name := range []string{"summary.json", "run.json", "zones.geojson"} {
		text, err := os.ReadFile("out/" + name)
		require.NoError(t, err)
		assert.Contains(t, string(text), `overlap`, name)
	}
	code, out, errs = run(t, "handoff", "out", "--swath", "24m", "--out", "job", "--details", "--against-verdict", "--whole-field")
	require.Zero(t, code, errs)
	assert.Equal(t, 1, strings.Count(out, "note: "+said), out)
	sheet, err := os.ReadFile("job/jobsheet.html")
	require.NoError(t, err)
	assert.Contains(t, string(sheet), "As drawn, fields ")
}

// GPX: a pond walked as a second segment of the track, and one that is a track of
// its own with a name.
func TestPondsOfTracks(t *testing.T) {
	track := func(name string, segments ...string) string {
		out := "<trk><name>" + name + "</name>"
		for _, s := range segments {
			var ring [][2]float64
			require.NoError(t, json.Unmarshal([]byte(s), &ring))
			out += "<trkseg>"
			for _, p := range ring {
				out += fmt.Sprintf(`<trkpt lon="%.5f" lat="%.5f"/>`, p[0], p[1])
			}
			out += "</trkseg>"
		}
		return out + "</trk>"
	}
	var dry [][2]float64
	for _, p := range around(0, 0) {
		if p[0] < 1 || p[0] > 2 {
			dry = append(dry, p)
		}
	}
	for _, c := range []struct {
		tracks string
		asks   bool
	}{
		{track("A", square(0, 0, 4, 4), square(1, 1, 2, 2)), true},
		{track("A", square(0, 0, 4, 4)) + track("Pond", square(1, 1, 2, 2)), false},
	} {
		drawnFarm(t, nil, dry...)
		require.NoError(t, os.WriteFile("farm.gpx", []byte(`<gpx version="1.1">`+c.tracks+`</gpx>`), 0o644))
		args := []string{"map", "counts.csv", "--field", "farm.gpx", "--out", "out"}
		if c.asks {
			code, _, errs := run(t, args...)
			assert.Equal(t, 1, code)
			assert.Contains(t, errs, `outline "A (2)" lies inside field "A"`)
			args = append(args, "--inner", "hole")
		}
		code, _, errs := run(t, args...)
		require.Zero(t, code, errs)
		assert.InDelta(t, 15*thousandth, zoneHectares(t)["A"], 0.01)
	}
}

// A stop in a pond is said to be in it, by every command, and check says of an outline
// all that map says.
func TestAStopInAPondIsSaidToBeInIt(t *testing.T) {
	pond := square(3.4, 1.2, 4.4, 2)
	for name, c := range map[string]struct {
		outlines []string
		in       string
	}{
		"a hole over the edge":    {[]string{outline("A", square(0, 0, 4, 4), pond)}, `a hole of "A", such as a pond`},
		"an outline of its own":   {[]string{outline("A", square(0, 0, 4, 4)), outline("Pond", pond)}, `"Pond", which is no field, by its name`},
		"a hole inside the field": {[]string{outline("A", square(0, 0, 4, 4), square(3.4, 1.2, 3.9, 2))}, `a hole of "A", such as a pond`},
		"beside the field":        {[]string{outline("A", square(0, 0, 3.4, 4))}, ""},
	} {
		t.Run(name, func(t *testing.T) {
			places := append(around(-0.5, 0)[4:], [2]float64{3.5, 1.5})
			drawnFarm(t, c.outlines, places...)
			code, mapped, errs := run(t, mapFarm("--details", "--write", "report")...)
			require.Zero(t, code, errs)
			code, checked, errs := run(t, "check", "counts.csv", "--field", "farm.geojson")
			require.Zero(t, code, errs)
			if c.in == "" {
				assert.Contains(t, mapped, "stop 13 lies 9.03 m outside the boundary and was counted in")
				assert.Contains(t, checked, `stop 13 lies 9 m outside field "A" and is counted in`)
				return
			}
			assert.Contains(t, mapped, "stop 13 lies in "+c.in+", 9.03 m from the field, and was counted in")
			assert.Contains(t, checked, "stop 13 lies in "+c.in+`, 9 m from field "A", and is counted in`)
			assert.Contains(t, contents(t, "out")["report.html"], " from the field, and was counted in")
			_, notes, _ := strings.Cut(mapped, "\nNotes\n")
			for _, line := range strings.Split(notes, "\n") {
				if line, ok := strings.CutPrefix(line, "  farm.geojson: "); ok {
					assert.Contains(t, checked, "note: farm.geojson: "+line)
				}
			}
		})
	}
}
