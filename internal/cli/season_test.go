package cli_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/testkit"
)

// inSeason makes a season of the invented weeks 1 and 2 and an invented spray.
func inSeason(t *testing.T) {
	t.Helper()
	madeOnce(t, "season", func() {
		inFolder(t)
		require.NoError(t, os.WriteFile("sprayed.geojson", []byte(sprayed), 0o644))
		for _, args := range [][]string{
			{"season", "add", "s.gpkg", "week2.csv", "--field", "field.geojson"},
			{"season", "add", "s.gpkg", "week1.csv", "--field", "field.geojson"},
			{"season", "add", "s.gpkg", "--treated", "sprayed.geojson"},
		} {
			code, out, errs := run(t, args...)
			require.Zero(t, code, errs)
			require.Contains(t, out, "stored as")
		}
	})
}

func TestSeasonScreens(t *testing.T) {
	for name, args := range map[string][]string{
		"help_season":        {"season", "--help"},
		"help_season_add":    {"season", "add", "--help"},
		"help_season_list":   {"season", "list", "--help"},
		"help_season_show":   {"season", "show", "--help"},
		"help_season_export": {"season", "export", "--help"},
		"help_season_copy":   {"season", "copy", "--help"},
		"help_season_roles":  {"season", "roles", "--help"},
		"season_list":        {"season", "list", "s.gpkg"},
	} {
		t.Run(name, func(t *testing.T) {
			if args[len(args)-1] != "--help" {
				inSeason(t)
			}
			code, out, errs := run(t, args...)
			require.Zero(t, code, errs)
			assert.Equal(t, string(testkit.Golden(t, filepath.Join("cli", name+".txt"), []byte(out))), out)
		})
	}
}

func TestSeasonShowsWhatMapSays(t *testing.T) {
	inSeason(t)
	code, shown, errs := run(t, "season", "show", "s.gpkg", "1", "--json")
	require.Zero(t, code, errs)
	code, mapped, errs := run(t, week("2", "--json")...)
	require.Zero(t, code, errs)
	assert.JSONEq(t, mapped, shown)
	code, last, errs := run(t, "season", "show", "s.gpkg", "--json")
	require.Zero(t, code, errs)
	assert.JSONEq(t, shown, last, "the last by its day, not by its number")
	code, screen, errs := run(t, "season", "show", "s.gpkg", "--details", "--units", "us")
	require.Zero(t, code, errs)
	assert.Contains(t, screen, "Pivot, 124 ac")
}

func TestSeasonExportGivesTheBytesBack(t *testing.T) {
	inSeason(t)
	code, _, errs := run(t, "season", "export", "s.gpkg", "--out", "back")
	require.Zero(t, code, errs)
	for _, name := range []string{"week1.csv", "week2.csv"} {
		want, err := os.ReadFile(name)
		require.NoError(t, err)
		got, err := os.ReadFile(filepath.Join("back", name))
		require.NoError(t, err)
		assert.Equal(t, want, got)
	}
	code, _, errs = run(t, "map", "back/week2.csv", "--field", "back/fields.geojson", "--out", "again")
	require.Zero(t, code, errs)
	code, _, errs = run(t, week("2")...)
	require.Zero(t, code, errs)
	assert.Equal(t, contents(t, "out")["zones.geojson"], contents(t, "again")["zones.geojson"])
	code, _, errs = run(t, "season", "export", "s.gpkg", "--out", "back")
	assert.Equal(t, 1, code)
	assert.Contains(t, errs, "is there already")
	code, out, errs := run(t, "season", "export", "s.gpkg", "--out", "one", "--visit", "2")
	require.Zero(t, code, errs)
	assert.Contains(t, out, "week1.csv")
	assert.NotContains(t, out, "week2.csv")
}

// onePivot writes the boundary of the first demonstration field alone.
func onePivot(t *testing.T) {
	t.Helper()
	text, err := os.ReadFile("field.geojson")
	require.NoError(t, err)
	var c struct {
		Type     string            `json:"type"`
		Features []json.RawMessage `json:"features"`
	}
	require.NoError(t, json.Unmarshal(text, &c))
	c.Features = c.Features[:1]
	text, err = json.Marshal(c)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile("pivot.geojson", text, 0o600))
}

// A visit is shown as it was worked out, whatever came into the season since.
func TestAVisitStaysWhatItWas(t *testing.T) {
	inFolder(t)
	onePivot(t)
	code, _, errs := run(t, "season", "add", "s.gpkg", "week1.csv", "--field", "pivot.geojson")
	require.Zero(t, code, errs)
	code, before, errs := run(t, "season", "show", "s.gpkg", "1", "--json")
	require.Zero(t, code, errs)
	code, _, errs = run(t, "season", "add", "s.gpkg", "week2.csv", "--field", "field.geojson")
	require.Zero(t, code, errs)
	code, after, errs := run(t, "season", "show", "s.gpkg", "1", "--json")
	require.Zero(t, code, errs)
	assert.Equal(t, before, after)
	code, mapped, errs := run(t, "map", "week1.csv", "--field", "pivot.geojson", "--out", "out", "--json")
	require.Zero(t, code, errs)
	assert.JSONEq(t, mapped, after)

	for out, fields := range map[string]int{"1": 1, "2": 2} {
		code, _, errs = run(t, "season", "export", "s.gpkg", "--out", "back"+out, "--visit", out)
		require.Zero(t, code, errs)
		assert.Equal(t, fields, strings.Count(contents(t, "back"+out)["fields.geojson"], `"name"`))
	}
	code, _, errs = run(t, "compare", "s.gpkg", "--out", "change")
	require.Zero(t, code, errs)
}

// A season that was moved to another machine has all that it was worked out with.
func TestASeasonKeepsTheFilesOfItsSettings(t *testing.T) {
	inFolder(t)
	noisyEyes(t, "scout A", "scout B")
	require.NoError(t, os.WriteFile("own.toml", []byte(ownRule), 0o600))
	require.NoError(t, os.WriteFile("schema.json", []byte(`{"fields":[{"name":"count","type":"integer"}]}`), 0o600))
	settings := []string{"--observers", filepath.Join("eyes", "observers.json"), "--rules", "own.toml", "--rule", "mine", "--schema", "schema.json"}
	add := func(n string) {
		code, _, errs := run(t, append([]string{"season", "add", "s.gpkg", "week" + n + ".csv", "--field", "field.geojson"}, settings...)...)
		require.Zero(t, code, errs)
	}
	add("1")
	add("2")
	code, _, errs := run(t, append([]string{"season", "add", "s.gpkg", "week2.csv", "--field", "field.geojson"}, settings...)...)
	assert.Equal(t, 1, code)
	assert.Contains(t, errs, "already, as visit 2", "where its files lie is no setting")
	code, mapped, errs := run(t, append([]string{"map", "week2.csv", "--field", "field.geojson", "--out", "out", "--json"}, settings...)...)
	require.Zero(t, code, errs)
	code, _, errs = run(t, append([]string{"compare", "week1.csv", "week2.csv", "--field", "field.geojson", "--out", "change"}, settings...)...)
	require.Zero(t, code, errs)
	changed := contents(t, "change")["compare.json"]
	observers, err := os.ReadFile("eyes/observers.json")
	require.NoError(t, err)
	content, err := os.ReadFile("s.gpkg")
	require.NoError(t, err)

	t.Chdir(t.TempDir())
	t.Setenv("TMPDIR", t.TempDir())
	require.NoError(t, os.WriteFile("moved.gpkg", content, 0o600))
	code, shown, errs := run(t, "season", "show", "moved.gpkg", "--json")
	require.Zero(t, code, errs)
	assert.JSONEq(t, mapped, shown)
	code, screen, errs := run(t, "compare", "--details", "moved.gpkg", "--out", "a")
	require.Zero(t, code, errs)
	assert.NotContains(t, screen, "other settings")
	assert.Equal(t, changed, contents(t, "a")["compare.json"])
	record := contents(t, "a")["run.json"]
	assert.Contains(t, record, `"observers": "observers.json"`)
	assert.NotContains(t, record, os.TempDir(), "no path of this machine")
	assert.Len(t, inputsOf(t, "a"), 1, "the season stands for what it keeps")
	code, _, errs = run(t, "season", "export", "moved.gpkg", "--out", "back")
	require.Zero(t, code, errs)
	back := contents(t, "back")
	assert.ElementsMatch(t, []string{"week1.csv", "week2.csv", "observers.json", "own.toml", "schema.json", "fields.geojson"}, names(t, "back"))
	assert.Equal(t, string(observers), back["observers.json"])
	assert.Equal(t, ownRule, back["own.toml"])
	assert.Empty(t, names(t, os.TempDir()), "nothing is left behind")

	// Other calibrations of the same name are other settings, and both are given back.
	t.Chdir("back")
	other := strings.Replace(string(observers), "{", "{ ", 1)
	require.NoError(t, os.WriteFile("observers.json", []byte(other), 0o600))
	fewer := strings.TrimSpace(back["week2.csv"]) // else they would be the same counts, with their day put right
	fewer = fewer[:strings.LastIndex(fewer, "\n")+1]
	put(t, "week2.csv", strings.ReplaceAll(fewer, "2026-07-15", "2026-07-16"))
	code, _, errs = run(t, "season", "add", "../moved.gpkg", "week2.csv", "--field", "fields.geojson", "--observers", "observers.json", "--rules", "own.toml", "--rule", "mine", "--schema", "schema.json")
	require.Zero(t, code, errs)
	code, _, errs = run(t, "season", "export", "../moved.gpkg", "--out", "../both")
	require.Zero(t, code, errs)
	both := contents(t, "../both")
	assert.Equal(t, string(observers), both["observers.json"])
	assert.Equal(t, other, both["3-observers-observers.json"])
	assert.Len(t, both, 8)
}

// The invented season of an older program, format 2: the first visit was to one field,
// and the last was corrected by a file that was not kept.
func TestASeasonOfAnOlderProgram(t *testing.T) {
	inFolder(t)
	onePivot(t)
	content, err := os.ReadFile(testkit.Testdata(t, "season", "format2.gpkg"))
	require.NoError(t, err)
	require.NoError(t, os.WriteFile("old.gpkg", content, 0o600))
	code, mapped, errs := run(t, "map", "week1.csv", "--field", "pivot.geojson", "--out", "out", "--json")
	require.Zero(t, code, errs)
	for range 2 { // as it is, and brought up
		code, shown, errs := run(t, "season", "show", "old.gpkg", "1", "--json")
		require.Zero(t, code, errs)
		assert.JSONEq(t, mapped, shown)
		code, _, errs = run(t, "season", "show", "old.gpkg", "3")
		assert.Equal(t, 1, code)
		assert.Contains(t, errs, "visit 3: the season was added with --observers eyes/observers.json, and the program of then did not keep the file")
		assert.Contains(t, errs, "hint: put it back there")
		code, _, errs = run(t, "compare", "old.gpkg", "--out", "x")
		assert.Equal(t, 1, code)
		assert.Contains(t, errs, "hint: say where it lies now with --observers")
		code, _, errs = run(t, "compare", "old.gpkg", "--out", "x", "--observers", "none.json")
		assert.Equal(t, 1, code)
		assert.Contains(t, errs, "none.json is not there")
		assert.NoDirExists(t, "x")
		code, _, errs = run(t, "season", "add", "old.gpkg", "week1.csv", "--field", "pivot.geojson")
		assert.Equal(t, 1, code)
		assert.Contains(t, errs, "as visit 1", "the same counts by the same settings")
		require.NoError(t, os.WriteFile("sprayed.geojson", []byte(sprayed), 0o600))
		code, _, errs = run(t, "season", "add", "old.gpkg", "--treated", "sprayed.geojson")
		require.Zero(t, code, errs)
	}
	noisyEyes(t, "scout A")
	code, _, errs = run(t, "season", "show", "old.gpkg", "3")
	assert.Zero(t, code, errs)
	require.NoError(t, os.Rename("eyes", "elsewhere"))
	code, _, errs = run(t, "compare", "old.gpkg", "--out", "x", "--observers", "elsewhere/observers.json")
	assert.Zero(t, code, errs)
}

func TestCompareTakesASeason(t *testing.T) {
	inSeason(t)
	code, _, errs := run(t, "season", "add", "s.gpkg", "week3.csv", "--field", "field.geojson")
	require.Zero(t, code, errs)
	code, _, errs = run(t, "compare", "s.gpkg", "--out", "a")
	require.Zero(t, code, errs)
	code, _, errs = run(t, "compare", "week1.csv", "week2.csv", "week3.csv", "--field", "field.geojson", "--treated", "sprayed.geojson", "--out", "b")
	require.Zero(t, code, errs)
	assert.Equal(t, contents(t, "b")["compare.json"], contents(t, "a")["compare.json"])
	assert.Contains(t, contents(t, "a")["compare.json"], "24 hours")
}

// What was added by one rule is compared by that rule, unless a flag says another.
func TestCompareTakesTheSettingsThatAreKept(t *testing.T) {
	inFolder(t)
	for _, n := range []string{"1", "2"} {
		code, _, errs := run(t, "season", "add", "s.gpkg", "week"+n+".csv", "--field", "field.geojson", "--treat-at", "60", "--watch-at", "20")
		require.Zero(t, code, errs)
		code, _, errs = run(t, "map", "week"+n+".csv", "--field", "field.geojson", "--treat-at", "60", "--watch-at", "20", "--out", "map"+n)
		require.Zero(t, code, errs)
	}
	for _, args := range [][]string{{"compare", "s.gpkg"}, {"compare", "map1", "map2"}} {
		code, out, errs := run(t, append(args, "--out", "x", "--json")...)
		require.Zero(t, code, errs)
		assert.Contains(t, out, `"treat_at": 60`)
		assert.Contains(t, out, `"watch_at": 20`)
		code, out, errs = run(t, append(args, "--out", "x", "--json", "--treat-at", "80")...)
		require.Zero(t, code, errs)
		assert.Contains(t, out, `"treat_at": 80`)
		assert.Contains(t, out, `"watch_at": 20`)
	}
}

func TestSeasonRefusals(t *testing.T) {
	for _, c := range []struct {
		name string
		args []string
		code int
		want string
	}{
		{"nothing to add", []string{"season", "add", "s.gpkg"}, 2, "nothing to add"},
		{"no field", []string{"season", "add", "s.gpkg", "week3.csv"}, 2, "--field"},
		{"twice", []string{"season", "add", "s.gpkg", "week1.csv", "--field", "field.geojson"}, 1, "already, as visit 2"},
		{"no season", []string{"season", "list", "none.gpkg"}, 1, "none.gpkg"},
		{"not a season", []string{"season", "list", "week1.csv"}, 1, "no GeoPackage"},
		{"no such visit", []string{"season", "show", "s.gpkg", "9"}, 1, "no visit 9"},
		{"no number", []string{"season", "show", "s.gpkg", "first"}, 2, "want a number"},
		{"nowhere", []string{"season", "export", "s.gpkg"}, 2, "--out"},
		{"day of no treatment", []string{"season", "add", "s.gpkg", "--treated", "field.geojson"}, 1, "--treated-on"},
	} {
		t.Run(c.name, func(t *testing.T) {
			inSeason(t)
			before, err := os.ReadFile("s.gpkg")
			require.NoError(t, err)
			code, _, errs := run(t, c.args...)
			assert.Equal(t, c.code, code, errs)
			assert.Contains(t, errs, c.want)
			after, err := os.ReadFile("s.gpkg")
			require.NoError(t, err)
			assert.True(t, string(before) == string(after), "what is refused changes nothing")
			assert.NoFileExists(t, "none.gpkg")
		})
	}
}

// A file that lost a page is reported when it is listed, and nothing is added to it.
func TestABrokenSeasonIsReported(t *testing.T) {
	inSeason(t)
	content, err := os.ReadFile("s.gpkg")
	require.NoError(t, err)
	const page = 4096
	at := bytes.Index(content, []byte("week1.csv")) / page * page // of the files
	require.Positive(t, at)
	copy(content[at:], make([]byte, page))
	require.NoError(t, os.WriteFile("s.gpkg", content, 0o600))
	for _, args := range [][]string{{"season", "list", "s.gpkg"}, {"season", "add", "s.gpkg", "week3.csv", "--field", "field.geojson"}} {
		code, out, errs := run(t, args...)
		assert.Equal(t, 1, code)
		assert.Empty(t, out)
		assert.Contains(t, errs, "s.gpkg: is broken")
		assert.Contains(t, errs, "hint: take a copy")
	}
	after, err := os.ReadFile("s.gpkg")
	require.NoError(t, err)
	assert.True(t, bytes.Equal(content, after))
}

func TestGDALReadsTheSeason(t *testing.T) {
	inSeason(t)
	out := testkit.Program(t, nil, "ogrinfo", "-ro", "-al", "s.gpkg")
	assert.Contains(t, out, "pest (String) = sorghum aphid")
	assert.NotContains(t, out, "Warning")
	assert.Equal(t, 1, strings.Count(out, "Layer name: zones"))
	assert.Contains(t, out, `rows (String) = ["week1.csv:2"]`)
}

// Counts without a day can never be compared, so that a season does not take them.
func TestASeasonTakesNoCountsWithoutADay(t *testing.T) {
	inFolder(t)
	text, err := os.ReadFile("week2.csv")
	require.NoError(t, err)
	day := regexp.MustCompile(`2026-07-15T[^,]*`)
	const fix = "hint: nothing was added; "
	for says, table := range map[string][]byte{
		"no row of counts.csv has its day, and a season goes by days\n" + fix + "give the counts a column date\n": day.ReplaceAll(text, nil),
		"counts.csv: 1 of 54 stops do not give their day, such as stop 1, and a season goes by days\n" + fix:      bytes.Replace(text, day.Find(text), nil, 1),
	} {
		require.NoError(t, os.WriteFile("counts.csv", table, 0o600))
		code, _, errs := run(t, "season", "add", "s.gpkg", "counts.csv", "--field", "field.geojson")
		assert.Equal(t, 1, code)
		assert.Contains(t, errs, says)
		assert.NoFileExists(t, "s.gpkg")
	}
}

// openDays are counts of which no date tells the order of day and month, with a row that
// cannot be used.
func openDays(t *testing.T) {
	t.Helper()
	text, err := os.ReadFile("week2.csv")
	require.NoError(t, err)
	lines := strings.Split(string(text), "\n")
	head := strings.Split(lines[0], ",")
	at := slices.Index(head, "time")
	require.GreaterOrEqual(t, at, 0, lines[0])
	for i, line := range lines[1:] {
		if cells := strings.Split(line, ","); len(cells) == len(head) {
			cells[at] = "08/07/2031"
			lines[i+1] = strings.Join(cells, ",")
		}
	}
	lines[3] = strings.Replace(lines[3], ",-", ",x-", 1)
	require.NoError(t, os.WriteFile("open.csv", []byte(strings.Join(lines, "\n")), 0o600))
}

// What map says of rows and days, season add says.
func TestSeasonAddSaysWhatItSetAsideAndGuessed(t *testing.T) {
	inFolder(t)
	openDays(t)
	code, out, errs := runOn(t, "2031-07-09", "season", "add", "s.gpkg", "open.csv", "--field", "field.geojson")
	require.Zero(t, code, errs)
	assert.Contains(t, out, "stored as visit 1")
	assert.Contains(t, errs, "1 set aside")
	assert.Contains(t, errs, "open.csv:4")
	assert.Contains(t, errs, "can be 7 August 2031 or 8 July 2031")
	assert.Contains(t, errs, "no date in the file shows which is right")
	assert.Contains(t, errs, "2031-08-07 is still to come")
}

// A day that was guessed wrongly is put right, and the wrong one does not stay.
func TestADayOfASeasonIsPutRight(t *testing.T) {
	inFolder(t)
	openDays(t)
	add := func(args ...string) (int, string, string) {
		return run(t, append([]string{"season", "add", "s.gpkg", "open.csv", "--field", "field.geojson"}, args...)...)
	}
	code, _, errs := add()
	require.Zero(t, code, errs)
	code, _, errs = add("--date-order", "day-first")
	assert.Equal(t, 1, code)
	assert.Contains(t, errs, "the season holds these counts already, as visit 1 of 2031-08-07")
	assert.Contains(t, errs, "--replace puts them in its place")
	code, out, errs := add("--date-order", "day-first", "--replace")
	require.Zero(t, code, errs)
	assert.Contains(t, out, "visit 1 in s.gpkg: 2031-07-08")
	assert.Contains(t, errs, "visit 1 was replaced, as asked")
	code, out, errs = run(t, "season", "list", "s.gpkg", "--json")
	require.Zero(t, code, errs)
	assert.Equal(t, 1, strings.Count(out, `"visit"`), out)

	// Other bytes of another day want its number.
	text, err := os.ReadFile("open.csv")
	require.NoError(t, err)
	require.NoError(t, os.WriteFile("open.csv", bytes.ReplaceAll(text, []byte("08/07/2031"), []byte("2031-07-09")), 0o600))
	code, _, errs = add("--replace-visit", "5")
	assert.Equal(t, 1, code)
	assert.Contains(t, errs, "there is no visit 5")
	code, _, errs = add("--replace-visit", "1")
	require.Zero(t, code, errs)
	assert.Contains(t, errs, "visit 1 was replaced, as asked")
	code, out, errs = run(t, "season", "list", "s.gpkg", "--json")
	require.Zero(t, code, errs)
	assert.Equal(t, 1, strings.Count(out, `"visit"`), out)
	assert.Contains(t, out, "2031-07-09")
	code, _, errs = run(t, "season", "add", "s.gpkg", "--treated", "open.csv", "--replace-visit", "1")
	assert.Equal(t, 2, code)
	assert.Contains(t, errs, "--replace-visit wants the counts")
}

// A boundary of a later visit that does not tell whose a field is takes nothing from what
// is exported.
func TestWhoseAFieldIsStaysInASeason(t *testing.T) {
	inFolder(t)
	text, err := os.ReadFile("field.geojson")
	require.NoError(t, err)
	known := bytes.Replace(text, []byte(`"name"`), []byte(`"customer": "Invented Customer", "rows": "90", "name"`), 1)
	require.NoError(t, os.WriteFile("known.geojson", known, 0o600))
	for i, boundary := range []string{"known.geojson", "field.geojson"} {
		code, _, errs := run(t, "season", "add", "s.gpkg", fmt.Sprintf("week%d.csv", i+1), "--field", boundary)
		require.Zero(t, code, errs)
	}
	for _, args := range [][]string{{"--out", "all"}, {"--out", "both", "--visit", "1,2"}} {
		code, _, errs := run(t, append([]string{"season", "export", "s.gpkg"}, args...)...)
		require.Zero(t, code, errs)
		fields := contents(t, args[1])["fields.geojson"]
		assert.Contains(t, fields, "Invented Customer", args)
		assert.Contains(t, fields, `"rows"`, args)
	}
}
