package cli_test

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/testkit"
)

func TestCheckScreens(t *testing.T) {
	for name, args := range map[string][]string{
		"check_week3":      {"check", "week3.csv", "--field", "field.geojson"},
		"check_week3_swap": {"check", "week3.csv", "--field", "field.geojson", "--fix", "swap"},
		"check_week1_json": {"check", "week1.csv", "--field", "field.geojson", "--json"},
		"help_check":       {"check", "--help"},
		"help_template":    {"template", "--help"},
	} {
		t.Run(name, func(t *testing.T) {
			inFolder(t)
			code, out, errs := run(t, args...)
			require.Zero(t, code, errs)
			assert.Empty(t, errs)
			assert.Equal(t, string(testkit.Golden(t, filepath.Join("cli", name+".txt"), []byte(out))), out)
		})
	}
}

// Each row has one fault that only shows against the field or other rows.
func TestCheckFindsWhatOnlyShowsAgainstTheField(t *testing.T) {
	inFolder(t)
	const good = ",-101.600000,35.900000,30,10,2026-07-15T06:40,scout A"
	head := "stop,longitude,latitude,count,leaves,time,observer\nfirst" + good + "\n"
	for name, c := range map[string]struct {
		row, want string
	}{
		"swapped":           {"x,35.9001,-101.6,3,10,2026-07-15T06:50,scout A", "latitude and longitude are swapped; give --fix swap"},
		"a lost sign":       {"x,101.6,35.9001,3,10,2026-07-15T06:50,scout A", "the longitude has lost its sign; give --fix sign"},
		"minutes":           {"x,-101.36006,35.54,3,10,2026-07-15T06:50,scout A", "minutes were written as decimals of a degree; give --fix minutes"},
		"another farm":      {"x,-101.7,35.9,3,10,2026-07-15T06:50,scout A", "stop x lies in no field, nor within 15 m of one"},
		"outside":           {"x,-101.60452,35.9,3,10,2026-07-15T06:50,scout A", "m outside field \"Pivot\" and is counted in"},
		"out of order":      {"x,-101.6002,35.9,3,10,2026-07-15T06:10,scout A", `one.csv:3: time "2026-07-15T06:10": stop x was counted before stop first`},
		"another day":       {"x,-101.6002,35.9,3,10,2026-07-14T06:50,scout A", `is of another day than most of field "Pivot"`},
		"few leaves":        {"x,-101.6002,35.9,3,2,2026-07-15T06:50,scout A", "stop x has fewer than 5 leaves"},
		"one name, twice":   {"first,-101.6010,35.9,3,10,2026-07-15T06:50,scout A", "taken as a stop of its own"},
		"the same row":      {"first" + good, "the same row as line 2 once more"},
		"another's earlier": {"x,-101.6002,35.9,3,10,2026-07-15T06:10,scout B", ""},
	} {
		t.Run(name, func(t *testing.T) {
			text := head + c.row + "\n"
			if name == "another day" || name == "the same row" { // where most stops have one row
				text = head + "second,-101.6001,35.9001,3,10,2026-07-15T06:45,scout A\nthird,-101.6001,35.9011,3,10,2026-07-15T06:46,scout A\n" + c.row + "\n"
			}
			require.NoError(t, os.WriteFile("one.csv", []byte(text), 0o600))
			code, out, errs := run(t, "check", "one.csv", "--field", "field.geojson")
			require.Zero(t, code, errs)
			if c.want == "" {
				assert.NotContains(t, out, "one.csv:")
				return
			}
			assert.Contains(t, out, c.want)
			assert.Contains(t, out, "one.csv:")
		})
	}
}

// One fault of a whole file is one line, on every screen, and no pest is spoken of
// that was not counted.
func TestRowsAlikeAreOneLine(t *testing.T) {
	inFolder(t)
	var rows strings.Builder
	rows.WriteString("stop,longitude,latitude,count,leaves\n")
	for i := range 16 {
		fmt.Fprintf(&rows, "%d,35.9,-101.60%02d,3,10\n", i, i)
	}
	require.NoError(t, os.WriteFile("swapped.csv", []byte(rows.String()), 0o600))
	const line = `swapped.csv:2, 3, 4 and 13 more rows: longitude "35.9": latitude and longitude are swapped; give --fix swap`
	code, out, errs := run(t, "check", "swapped.csv", "--field", "field.geojson")
	assert.Equal(t, 1, code)
	assert.Equal(t, 1, strings.Count(out, "swapped;"), out)
	assert.Contains(t, out, "refused: "+line)
	assert.Contains(t, out, "--out FOLDER writes each row by itself, in problems.csv\n")
	assert.NotContains(t, errs, "another pest")
	_, out, _ = run(t, "check", "swapped.csv", "--field", "field.geojson", "--out", "checked")
	assert.Contains(t, out, "each row by itself stands in problems.csv\n")
	all, err := os.ReadFile("checked/problems.csv")
	require.NoError(t, err)
	assert.Equal(t, 17, bytes.Count(all, []byte("\n")), "a header and all rows")
	_, out, _ = run(t, "check", "week2.csv", "--field", "field.geojson")
	assert.NotContains(t, out, "by itself", "where each has its line")
	code, _, errs = run(t, "map", "swapped.csv", "--field", "field.geojson", "--out", "out")
	assert.Equal(t, 1, code)
	assert.Equal(t, 1, strings.Count(errs, "swapped;"), errs)
	assert.Contains(t, errs, line)
	assert.NotContains(t, errs, "another pest")
	require.NoError(t, os.WriteFile("two.csv", []byte(rows.String()+"x,-101.6,35.9,3,10\ny,-101.601,35.9,3,10\nz,-101.602,35.9,3,10\n"), 0o600))
	_, out, _ = run(t, "map", "two.csv", "--details", "--field", "field.geojson", "--out", "out")
	assert.Contains(t, out, strings.Replace(line, "swapped.csv", "two.csv", 1))
}

func TestFixesAreAppliedWhenAskedFor(t *testing.T) {
	inFolder(t)
	code, out, errs := run(t, week("3", "--details", "--fix", "swap")...)
	require.Zero(t, code, errs)
	assert.Contains(t, out, "Rows: 59 read, 57 used, 2 set aside")
	assert.Contains(t, out, "latitude and longitude are swapped; read so")
	code, _, errs = run(t, week("3", "--fix", "guess")...)
	assert.Equal(t, 2, code)
	assert.Contains(t, errs, "no fix of positions is called")
}

// The average of an observer is of the stops that are named with it: extra ones stand aside.
func TestTheAverageIsOfTheStopsNamed(t *testing.T) {
	inFolder(t)
	const rows = "stop,longitude,latitude,count,leaves,observer,kind\n1,-101.6000,35.9,10,10,A,\n2,-101.6010,35.9,30,10,A,\n3,-101.6011,35.9,900,10,A,extra\n4,-101.6012,35.9,900,10,B,extra\n"
	require.NoError(t, os.WriteFile("some.csv", []byte(rows), 0o600))
	for language, want := range map[string][]string{
		"en": {"A: 2 stops and 1 extra, average 2\n", "B: 0 stops and 1 extra\n"},
		"es": {"A: 2 puntos y 1 extra, promedio 2\n", "B: 0 puntos y 1 extra\n"},
	} {
		code, out, errs := run(t, "check", "some.csv", "--language", language)
		require.Zero(t, code, errs)
		for _, line := range want {
			assert.Contains(t, out, line)
		}
	}
}

func TestEdgeAgainstInside(t *testing.T) {
	inFolder(t)
	require.NoError(t, os.WriteFile("edge.csv", []byte("stop,longitude,latitude,count,leaves\na,-101.6044,35.9,400,10\nb,-101.6,35.9,20,10\n"), 0o600))
	_, out, _ := run(t, "check", "edge.csv", "--field", "field.geojson")
	assert.Contains(t, out, "Pivot: within 8 m of the edge 1 stop, average 40; inside 1 stop, average 2\n")
	require.NoError(t, os.WriteFile("edge.csv", []byte("stop,longitude,latitude,count,leaves\na,-101.6044,35.9,400,10\n"), 0o600))
	_, out, _ = run(t, "check", "edge.csv", "--field", "field.geojson")
	assert.Contains(t, out, `field "Pivot" was only looked at within 8 m of its edge`)
	assert.NotContains(t, out, "–", "nothing is said of stops that there are not")
}

// What was used, read back, gives the same zones; what was not is in the other
// file.
func TestCleanAndProblems(t *testing.T) {
	for name, args := range map[string][]string{
		"demo":    {"week3.csv"},
		"formats": {testkit.Shared(t, "data", "formats", "points_dms.csv")},
	} {
		t.Run(name, func(t *testing.T) {
			inFolder(t)
			field := "field.geojson"
			level := []string{}
			if name == "formats" {
				field = testkit.Shared(t, "data", "formats", "poly_rfc7946.geojson")
				level = []string{"--treat-at", "20", "--watch-at", "5"}
			}
			code, _, errs := run(t, append(append([]string{"check"}, args...), "--field", field, "--out", "checked")...)
			require.Zero(t, code, errs)
			assert.Equal(t, []string{"clean.csv", "clean.schema.json", "problems.csv"}, names(t, "checked"))
			zones := func(samples, out string) string {
				code, _, errs := run(t, append([]string{"map", samples, "--field", field, "--out", out}, level...)...)
				require.Zero(t, code, errs)
				return contents(t, out)["zones.geojson"]
			}
			away := regexp.MustCompile(`; \d+ of \d+ stops used, \d+ lie in no field`) // those are left out, as check says
			assert.Equal(t, away.ReplaceAllString(zones(args[0], "a"), ""), zones("checked/clean.csv", "b"))
			f, err := os.Open("checked/problems.csv")
			require.NoError(t, err)
			defer f.Close()
			rows, err := csv.NewReader(f).ReadAll()
			require.NoError(t, err)
			assert.Equal(t, []string{"file", "line", "column", "value", "severity", "what", "how to fix it"}, rows[0])
			var schema struct{ Fields []struct{ Name, Type string } }
			require.NoError(t, json.Unmarshal([]byte(contents(t, "checked")["clean.schema.json"]), &schema))
			header, _, _ := strings.Cut(contents(t, "checked")["clean.csv"], "\n")
			assert.Len(t, schema.Fields, strings.Count(header, ",")+1)
		})
	}
}

// A share that the rows tell is known by the clean file too, and stops in no field
// are in neither it nor its map.
func TestCleanKeepsWhatATallyNeeds(t *testing.T) {
	inFolder(t)
	var rows strings.Builder
	rows.WriteString("stop,longitude,latitude,count,leaves,infested\n")
	for i := range 12 {
		fmt.Fprintf(&rows, "%d,%g,%g,%d,10,%d\n", i, -101.602+float64(i%4)/1000, 35.899+float64(i/4)/1000, 3*i, min(i, 9))
	}
	rows.WriteString("away,-101.5,35.9,1,10,1\n")
	require.NoError(t, os.WriteFile("counts.csv", []byte(rows.String()), 0o600))
	_, out, errs := run(t, "check", "counts.csv", "--field", "field.geojson", "--out", "checked")
	assert.Empty(t, errs)
	assert.Contains(t, out, "clean.csv leaves out 1 stop in no field")
	var zones []string
	for _, samples := range []string{"counts.csv", "checked/clean.csv"} {
		code, _, errs := run(t, "map", samples, "--field", "field.geojson", "--tally", "1", "--treat-at", "40", "--watch-at", "20", "--out", "map"+filepath.Base(samples))
		require.Zero(t, code, errs)
		zones = append(zones, contents(t, "map"+filepath.Base(samples))["zones.geojson"])
	}
	assert.Equal(t, zones[0], zones[1])
}

// Counts are corrected by observer when they are mapped; the clean file holds them as
// they were entered, not to be corrected twice.
func TestCleanHoldsCountsAsEntered(t *testing.T) {
	inFolder(t)
	pairs := "observer,estimated,counted\n"
	for _, v := range []string{"1,2", "2,4", "4,8", "8,16", "15,30", "30,60", "60,120", "120,240", "240,480", "400,800"} {
		pairs += "Scout A," + v + "\n"
	}
	require.NoError(t, os.WriteFile("pairs.csv", []byte(pairs), 0o600))
	code, _, errs := run(t, "calibrate", "pairs.csv", "--out", "eyes")
	require.Zero(t, code, errs)
	var screens, clean []string
	for _, more := range [][]string{nil, {"--observers", "eyes/observers.json"}} {
		code, out, errs := run(t, append([]string{"check", "week2.csv", "--field", "field.geojson", "--out", "checked"}, more...)...)
		require.Zero(t, code, errs)
		screens, clean = append(screens, out), append(clean, contents(t, "checked")["clean.csv"])
	}
	assert.NotEqual(t, screens[0], screens[1], "the report tells the corrected means")
	assert.Equal(t, clean[0], clean[1])
}

func TestCheckStrict(t *testing.T) {
	inFolder(t)
	code, _, _ := run(t, "check", "week2.csv", "--strict")
	assert.Zero(t, code)
	code, _, errs := run(t, "check", "week3.csv", "--strict")
	assert.Equal(t, 3, code)
	assert.Contains(t, errs, "were set aside")
	require.NoError(t, os.WriteFile("one.csv", []byte("stop,longitude,latitude,count\nA,-101.6,35.9,x\nB,-101.6,35.9,3\n"), 0o600))
	code, _, errs = run(t, "check", "one.csv", "--strict")
	assert.Equal(t, 3, code, "one row is enough")
	assert.Contains(t, errs, "set aside")
}

// The hint names the command that was asked for wrongly, not the one whose options
// it shares.
func TestHintNamesTheCommandThatRan(t *testing.T) {
	inFolder(t)
	for _, args := range [][]string{{"check", "week2.csv", "--utm", "14X"}, {"map", "week2.csv"}, {"season", "list", "--nosuch"}, {"rules", "compute", "--nosuch"}} {
		code, _, errs := run(t, args...)
		assert.Equal(t, 2, code, args)
		command := args[0]
		if command == "season" || command == "rules" {
			command += " " + args[1]
		}
		assert.Contains(t, errs, "hint: geocoris "+command+" --help shows examples")
	}
}

func TestTemplateIsUnderstood(t *testing.T) {
	inFolder(t)
	code, out, errs := run(t, "template", "monday")
	require.Zero(t, code, errs)
	assert.Contains(t, out, "monday holds counts.csv")
	assert.Equal(t, []string{"counts.csv", "counts.schema.json", "sheet.html"}, names(t, "monday"))
	text := contents(t, "monday")["counts.csv"] + "a,-101.6,35.9,3,10,,,2026-07-15,06:40,me,sorghum aphid,4,3,\n"
	require.NoError(t, os.WriteFile("monday/counts.csv", []byte(text), 0o600))
	code, out, errs = run(t, "check", "monday/counts.csv")
	require.Zero(t, code, errs)
	assert.Contains(t, out, "rows: 1 read, 1 used")
	assert.NotContains(t, out, "not used")
	code, _, errs = run(t, "template", "monday")
	assert.Equal(t, 1, code)
	assert.Contains(t, errs, "is there already")
	assert.NotContains(t, contents(t, "monday")["sheet.html"], "http://")
	assert.Equal(t, 20, strings.Count(contents(t, "monday")["sheet.html"], `<tr><td class="n">`))
}

func TestColumnsBySchema(t *testing.T) {
	inFolder(t)
	require.NoError(t, os.WriteFile("own.csv", []byte("ort,x_grad,y_grad,zahl,blatt\nA,-101.6,35.9,30,10\nB,-101.601,35.9,k.A.,10\n"), 0o600))
	require.NoError(t, os.WriteFile("own.json", []byte(`{"fields":[{"name":"ort","title":"Stop"},{"name":"x_grad","title":"longitude"},{"name":"y_grad","title":"latitude"},{"name":"zahl","title":"count"},{"name":"blatt","title":"leaves"}],"missingValues":["","k.A."]}`), 0o600))
	code, out, errs := run(t, "check", "own.csv", "--schema", "own.json")
	require.Zero(t, code, errs)
	assert.Contains(t, out, `own.csv:3: count "": is blank`)
	require.NoError(t, os.WriteFile("own.json", []byte(`[]`), 0o600))
	code, _, errs = run(t, "check", "own.csv", "--schema", "own.json")
	assert.Equal(t, 1, code)
	assert.Contains(t, errs, "own.json: is no table schema")
}

// Scouts who give no names have a file each: one's first stop is not after the other's last.
func TestOrderIsLookedAtWithinOneFile(t *testing.T) {
	inFolder(t)
	const head = "stop,longitude,latitude,count,leaves,date,time\n"
	put(t, "a.csv", head+"1,-101.6,35.9,30,10,2026-07-15,6:40 AM\n2,-101.601,35.9,30,10,2026-07-15,8:05 AM\n")
	put(t, "b.csv", head+"1,-101.602,35.899,3,10,2026-07-15,6:31 AM\n2,-101.602,35.9,3,10,2026-07-15,8:02 AM\n3,-101.602,35.901,3,10,2026-07-15,7:15 AM\n")
	code, out, errs := run(t, "check", "a.csv", "b.csv", "--field", "field.geojson")
	require.Zero(t, code, errs)
	assert.NotContains(t, out, "b.csv:2: time")
	assert.Contains(t, out, `b.csv:4: time "7:15 AM": stop 3 was counted before stop 2, which stands above it`)
}
