package cli_test

import (
	"encoding/json"
	"fmt"
	"maps"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/testkit"
)

// Parts together are the whole, whatever their number; what lies in fields of other parts
// is not said to be lost, and a part without counts is no failure.
func TestPartsTogetherAreTheWhole(t *testing.T) {
	args := append(lattices(t, twelve()), "--cell", "20")
	code, _, errs := run(t, args...)
	require.Zero(t, code, errs)
	all, zones, stops := summaryOf(t, "out"), zonesByField(t, "out"), contents(t, "out")["stops.geojson"]
	for _, parts := range []int{3, 13, 1}[:testkit.Few(3, 2)] {
		fields, ground, points, empty := map[string]map[string]any{}, map[string][]any{}, 0, 0
		for k := range parts {
			out, part := fmt.Sprintf("of%d-%d", parts, k+1), fmt.Sprintf("%d/%d", k+1, parts)
			code, said, errs := run(t, append(args, "--out", out, "--part", part, "--details")...)
			require.Zero(t, code, errs)
			if len(names(t, out)) == 0 {
				empty++
				assert.Contains(t, errs, "note: --part "+part+": ")
				assert.Contains(t, errs, "; nothing was written")
				code, said, errs = run(t, append(args, "--out", out, "--part", part, "--json")...)
				require.Zero(t, code, errs)
				var told struct {
					Fields []any    `json:"fields"`
					Rows   struct{} `json:"rows"`
					Levels any      `json:"levels"`
					Notes  []string `json:"notes"`
				}
				require.NoError(t, json.Unmarshal([]byte(said), &told), said)
				assert.Equal(t, []any{}, told.Fields)
				assert.Nil(t, told.Levels, "of no field")
				assert.Contains(t, fmt.Sprint(told.Notes), "--part "+part+": ")
				continue
			}
			assert.NotContains(t, said, "in no field")
			if parts > 1 {
				assert.Contains(t, said, "left out, as asked: --part "+part)
			}
			for name, f := range summaryOf(t, out) {
				_, twice := fields[name]
				assert.False(t, twice, "%s is in two parts", name)
				fields[name] = f
			}
			maps.Copy(ground, zonesByField(t, out))
			points += strings.Count(contents(t, out)["stops.geojson"], `"Point"`)
		}
		assert.Equal(t, all, fields, "%d parts", parts)
		assert.Equal(t, zones, ground, "%d parts", parts)
		assert.Equal(t, strings.Count(stops, `"Point"`), points)
		assert.Equal(t, map[int]int{13: 2}[parts], empty, "one holds no field, one none with counts")
	}

	var made struct{ Settings struct{ Only []string } }
	require.NoError(t, json.Unmarshal([]byte(contents(t, "of3-2")["run.json"]), &made))
	assert.Equal(t, []string{"Crest", "Home", "South 1", "South 2"}, made.Settings.Only)
	code, _, errs = run(t, append(args, "--out", "few", "--part", "2/2", "--only", "Home", "--only", "Crest", "--only", "South 4")...)
	require.Zero(t, code, errs)
	assert.Len(t, summaryOf(t, "few"), 2, "of those asked for")
}

func TestPartsAreRefused(t *testing.T) {
	args := append(lattices(t, twelve()), "--cell", "20")
	for _, part := range []string{"", "0/3", "4/3", "1/0", "3/", "/3", "a/b", "3", "1/2/3", "-1/3", "1/99999999999999999999", "1/1000001", " 1/3"} {
		code, _, errs := run(t, append(args, "--part", part)...)
		assert.Equal(t, 2, code, part)
		assert.Contains(t, errs, fmt.Sprintf("--part %q: want K/N", part))
	}
	code, _, errs := run(t, append(args, "--part", "1/2", "--by-grower")...)
	assert.Equal(t, 2, code)
	assert.Contains(t, errs, "--part and --by-grower")
	assert.Empty(t, names(t, "out"))

	// A map that stands there would be taken for that of a part without counts.
	code, _, errs = run(t, append(args, "--part", "1/2")...)
	require.Zero(t, code, errs)
	code, _, errs = run(t, append(args, "--part", "12/12", "--force")...)
	assert.Equal(t, 1, code)
	assert.Contains(t, errs, "--part 12/12: nobody counted in its fields; out holds an earlier map")

	// Rows that could not be read tell that somebody counted.
	rows, err := os.ReadFile("farm.csv")
	require.NoError(t, err)
	lines := strings.Split(string(rows), "\n")
	for i, line := range lines {
		if cells := strings.Split(line, ","); len(cells) > 4 && i > 132-12 {
			cells[3] = "x"
			lines[i] = strings.Join(cells, ",")
		}
	}
	require.NoError(t, os.WriteFile("farm.csv", []byte(strings.Join(lines, "\n")), 0o600))
	code, _, errs = run(t, append(args, "--out", "unread", "--part", "11/12")...)
	assert.Equal(t, 1, code)
	assert.Contains(t, errs, "--part 11/12: no stop could be read in the fields asked for, though rows that could not lie in Long Meadow by the Grain Bins")
	assert.Contains(t, errs, "hint: correct these rows")
}

// A part takes the place of nothing but what it maps itself: with one folder for all parts
// those before would be gone.
func TestAPartOverwritesNoOther(t *testing.T) {
	args := append(lattices(t, twelve()), "--cell", "20")
	mapped := func(out string, more ...string) (int, string) {
		code, _, errs := run(t, append(append(args, "--out", out), more...)...)
		return code, errs
	}
	for _, c := range []struct {
		was, is []string
		lost    string // "" where nothing is
	}{
		{[]string{"--part", "1/3"}, []string{"--part", "2/3"}, "North 1"},
		{[]string{"--part", "1/3"}, []string{"--part", "1/3"}, ""},
		{[]string{"--part", "1/3"}, []string{"--part", "1/4"}, "North 4"},
		{nil, []string{"--part", "1/3"}, "Crest"},
		{[]string{"--part", "1/3"}, []string{"--part", "1/2"}, ""},
		{[]string{"--part", "1/3"}, nil, ""},
		{nil, []string{"--part", "1/1"}, ""},
		{[]string{"--part", "1/3"}, []string{"--part", "2/3", "--force"}, ""},
	}[:testkit.Few(8, 3)] {
		require.NoError(t, os.RemoveAll("one"))
		code, errs := mapped("one", c.was...)
		require.Zero(t, code, errs)
		was := contents(t, "one")
		code, errs = mapped("one", c.is...)
		if c.lost == "" {
			assert.Zero(t, code, "%v over %v: %s", c.is, c.was, errs)
			continue
		}
		assert.Equal(t, 1, code, "%v over %v", c.is, c.was)
		assert.Contains(t, errs, fmt.Sprintf("one holds field %q of this boundary, which is not in this part and would be lost", c.lost))
		assert.Contains(t, errs, "hint: give each part a folder of its own with --out")
		assert.Equal(t, was, contents(t, "one"))
	}

	// A map of another boundary is overwritten, as ever.
	text, err := os.ReadFile("farm.geojson")
	require.NoError(t, err)
	require.NoError(t, os.WriteFile("farm.geojson", append(text, '\n'), 0o600))
	code, errs := mapped("one", "--part", "3/3")
	assert.Zero(t, code, errs)
}

// How many fields are worked on at once changes nothing.
func TestJobsChangeNothing(t *testing.T) {
	args := append(lattices(t, twelve()), "--cell", "20")
	made := map[string]string{}
	for _, jobs := range []string{"1", "2", "64"} {
		code, _, errs := run(t, append(args, "--jobs", jobs)...)
		require.Zero(t, code, errs)
		if now := contents(t, "out"); jobs == "1" {
			made = now
		} else {
			for name, text := range made {
				assert.True(t, text == now[name], "%s with %s jobs", name, jobs)
			}
		}
	}
	for _, none := range []string{"-1", "0"} {
		code, _, errs := run(t, append(args, "--jobs", none)...)
		assert.Equal(t, 2, code)
		assert.Contains(t, errs, "--jobs "+none+": want the number of fields to work on at once")
	}
}

// The sequences of parts, one after the other, are that of the whole, and hold what
// zones.geojson does; a GeoPackage has a column for each property of any zone.
func TestResultsInOneFile(t *testing.T) {
	args := append(lattices(t, twelve()), "--cell", "20", "--write", "zones.geojsons,zones.gpkg")
	code, said, errs := run(t, args...)
	require.Zero(t, code, errs)
	assert.Contains(t, said, "zones.geojsons, zones.gpkg")
	whole := contents(t, "out")
	records := strings.SplitAfter(whole["zones.geojsons"], "\n")
	assert.Empty(t, records[len(records)-1])
	fields := map[string][]any{}
	for _, record := range records[:len(records)-1] {
		require.True(t, strings.HasPrefix(record, "\x1e{"), record[:20])
		var f struct {
			Properties map[string]any
			Geometry   any
		}
		require.NoError(t, json.Unmarshal([]byte(record[1:]), &f))
		name := f.Properties["field"].(string)
		fields[name] = append(fields[name], f.Properties, f.Geometry)
	}
	assert.Equal(t, zonesByField(t, "out"), fields)

	var made struct{ Outputs []struct{ Path string } }
	require.NoError(t, json.Unmarshal([]byte(whole["run.json"]), &made))
	assert.Contains(t, fmt.Sprint(made.Outputs), "{zones.geojsons} {zones.gpkg}")
	tables, err := geofile.Decode("zones.gpkg", strings.NewReader(whole["zones.gpkg"]), geofile.Limits{})
	require.NoError(t, err)
	assert.Len(t, tables.Features, len(records)-1+strings.Count(whole["stops.geojson"], `"Point"`))

	joined := ""
	for _, part := range []string{"1/3", "2/3", "3/3"} {
		code, _, errs := run(t, append(args, "--part", part, "--out", part[:1])...)
		require.Zero(t, code, errs)
		joined += contents(t, part[:1])["zones.geojsons"]
	}
	assert.True(t, joined == whole["zones.geojsons"])

	code, _, errs = run(t, append(args[:len(args)-2], "--force")...)
	require.Zero(t, code, errs)
	assert.NotContains(t, names(t, "out"), "zones.gpkg", "of the earlier run")
	code, _, errs = run(t, "report", "out", "--write", "zones.gpkg")
	assert.Equal(t, 2, code)
	assert.Contains(t, errs, "map alone writes it")
}
