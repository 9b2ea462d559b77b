package cli_test

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/testkit"
)

// scouts makes the seasons of two scouts: both were out in week 2, Ben with other counts,
// and both have week 1 of the office.
func scouts(t *testing.T) {
	t.Helper()
	inFolder(t)
	require.NoError(t, os.WriteFile("sprayed.geojson", []byte(sprayed), 0o644))
	text, err := os.ReadFile("week2.csv")
	require.NoError(t, err)
	lines := strings.SplitAfter(string(text), "\n")
	require.NoError(t, os.WriteFile("ben2.csv", []byte(strings.Join(lines[:len(lines)-6], "")), 0o644))
	for _, args := range [][]string{
		{"anna.gpkg", "week2.csv", "--author", "Anna"},
		{"anna.gpkg", "week1.csv"},
		{"anna.gpkg", "--treated", "sprayed.geojson"},
		{"ben.gpkg", "week1.csv"},
		{"ben.gpkg", "ben2.csv", "--author", "Ben"},
	} {
		code, _, errs := run(t, append([]string{"season", "add", "--field", "field.geojson"}, args...)...)
		require.Zero(t, code, errs)
	}
}

func TestSeasonMergeScreens(t *testing.T) {
	scouts(t)
	for _, c := range []struct {
		name string
		args []string
	}{
		{"help_season_merge", []string{"season", "merge", "--help"}},
		{"season_merge", []string{"season", "merge", "office.gpkg", "anna.gpkg", "ben.gpkg"}},
		{"season_merge_again", []string{"season", "merge", "anna.gpkg", "office.gpkg"}},
		{"season_merged_list", []string{"season", "list", "office.gpkg"}},
		{"season_merged_list_es", []string{"season", "list", "office.gpkg", "--language", "es"}},
	} {
		code, out, errs := run(t, c.args...)
		require.Zero(t, code, errs)
		out += errs
		assert.Equal(t, string(testkit.Golden(t, filepath.Join("cli", c.name+".txt"), []byte(out))), out)
	}
}

// Whichever file comes first, what is given back is the same.
func TestAMergedSeasonIsExportedTheSameInAnyOrder(t *testing.T) {
	scouts(t)
	for _, args := range [][]string{
		{"season", "merge", "ab.gpkg", "anna.gpkg", "ben.gpkg"},
		{"season", "merge", "ba.gpkg", "ben.gpkg", "anna.gpkg"},
		{"season", "merge", "anna.gpkg", "ben.gpkg"},
		{"season", "export", "ab.gpkg", "--out", "ab"},
		{"season", "export", "ba.gpkg", "--out", "ba"},
		{"season", "export", "anna.gpkg", "--out", "anna"},
	} {
		code, _, errs := run(t, args...)
		require.Zero(t, code, errs)
	}
	want := contents(t, "ab")
	assert.Len(t, want, 5)
	assert.Equal(t, want, contents(t, "ba"))
	assert.Equal(t, want, contents(t, "anna"))
}

// Two visits of one day are never chosen from silently.
func TestAMergedSeasonAsksWhichVisitCounts(t *testing.T) {
	scouts(t)
	code, _, errs := run(t, "season", "merge", "office.gpkg", "anna.gpkg", "ben.gpkg")
	require.Zero(t, code, errs)
	assert.Regexp(t, `note: visits 2 \(\w+\), 3 \(\w+\) are both of Corner block, Pivot on 2026-07-15; all are kept`, errs)
	code, out, errs := run(t, "season", "list", "office.gpkg", "--json")
	require.Zero(t, code, errs)
	var list struct {
		Visits []struct {
			Visit  int64
			Author string
			Files  []string
		}
		Beside []struct{ Visits []int64 } `json:"counted_more_than_once"`
	}
	require.NoError(t, json.Unmarshal([]byte(out), &list))
	require.Len(t, list.Visits, 3)
	require.NotEmpty(t, list.Beside)
	assert.Equal(t, []int64{2, 3}, list.Beside[0].Visits)

	code, _, errs = run(t, "compare", "office.gpkg", "--out", "change")
	assert.Equal(t, 1, code)
	assert.Contains(t, errs, "are both of Corner block, Pivot on 2026-07-15")
	assert.Contains(t, errs, "hint: say which to leave out, such as --without 3")
	assert.NoFileExists(t, filepath.Join("change", "compare.json"))

	for _, v := range list.Visits[1:] {
		without := map[int64]string{2: "3", 3: "2"}[v.Visit]
		code, _, errs = run(t, "compare", "office.gpkg", "--out", "change"+without, "--without", without)
		require.Zero(t, code, errs)
		code, _, errs = run(t, "compare", "week1.csv", v.Files[0], "--field", "field.geojson", "--treated", "sprayed.geojson", "--out", "plain"+without)
		require.Zero(t, code, errs)
		assert.ElementsMatch(t, comparedFields(t, "plain"+without), comparedFields(t, "change"+without), v.Author)
	}
	code, out, errs = run(t, "season", "show", "office.gpkg")
	require.Zero(t, code, errs)
	assert.True(t, strings.HasSuffix(out, "\n\nNext:\n  geocoris compare office.gpkg --out change\n"), out)
	assert.Contains(t, errs, "note: visits 2 (")

	for _, c := range []struct{ args, want string }{
		{"compare office.gpkg --out x --without 9", "--without 9: there is no such visit"},
		{"compare week1.csv week2.csv --field field.geojson --out x --without 1", "there is none among the weeks"},
		{"compare office.gpkg anna.gpkg --out x --without 1", "several seasons"},
		{"season merge office.gpkg office.gpkg", "is the season to merge into"},
		{"season merge office.gpkg", "season merge: FROM is missing"},
		{"season merge office.gpkg none.gpkg", "none.gpkg"},
		{"season merge office.gpkg week1.csv", "no GeoPackage"},
		{"season merge office.gpkg week1.csv", "hint: season merge puts seasons together"},
		{"compare office.gpkg --out x --without 9", "hint: there are visits 1, 2, 3"},
		{"season add office.gpkg week2.csv --field field.geojson --treat-at 44 --author Cleo --replace", "s: add these counts to a season of your own, and season merge keeps both"},
	} {
		code, _, errs = run(t, strings.Fields(c.args)...)
		assert.NotZero(t, code, c.args)
		assert.Contains(t, errs, c.want, c.args)
	}
	assert.NoFileExists(t, "none.gpkg", "looking makes no file")
}

// comparedFields are what compare says of each field; in a merged season they stand in the
// order of their names.
func comparedFields(t *testing.T, folder string) (fields []any) {
	t.Helper()
	var said struct{ Fields []any }
	require.NoError(t, json.Unmarshal([]byte(contents(t, folder)["compare.json"]), &said))
	require.Len(t, said.Fields, 2)
	return said.Fields
}

func TestTwoBoundariesOfOneNameAreTold(t *testing.T) {
	scouts(t)
	text, err := os.ReadFile("field.geojson")
	require.NoError(t, err)
	moved := strings.Replace(string(text), "-101.6", "-101.5", 1)
	require.NotEqual(t, string(text), moved)
	require.NoError(t, os.WriteFile("moved.geojson", []byte(moved), 0o644))
	code, _, errs := run(t, "season", "add", "other.gpkg", "week2.csv", "--field", "moved.geojson")
	require.Zero(t, code, errs)
	code, out, errs := run(t, "season", "merge", "office.gpkg", "anna.gpkg", "other.gpkg")
	assert.Equal(t, 1, code)
	assert.Empty(t, out)
	assert.Regexp(t, `field "Pivot" has one boundary in anna.gpkg, [\d.]+ ha \(\d+ ac\), and another in other.gpkg, [\d.]+ ha \(\d+ ac\), with \d+`, errs)
	assert.Contains(t, errs, "hint: nothing was merged")
	code, out, errs = run(t, "season", "list", "office.gpkg", "--json")
	require.Zero(t, code, errs)
	assert.JSONEq(t, `{"visits":[],"treatments":[]}`, out)
}

// The same sheet was added once with each of two fields: each visit counts in the field that
// it was added with, as if it were one visit of both.
func TestVisitsCountInTheFieldsTheyWereAddedWith(t *testing.T) {
	inFolder(t)
	var all struct {
		Type     string            `json:"type"`
		Features []json.RawMessage `json:"features"`
	}
	text, err := os.ReadFile("field.geojson")
	require.NoError(t, err)
	require.NoError(t, json.Unmarshal(text, &all))
	require.Len(t, all.Features, 2)
	both := all.Features
	for i, name := range []string{"one.geojson", "other.geojson"} {
		all.Features = both[i : i+1]
		text, err = json.Marshal(all)
		require.NoError(t, err)
		require.NoError(t, os.WriteFile(name, text, 0o644))
	}
	for _, week := range []string{"week1.csv", "week2.csv"} {
		for _, args := range [][]string{{"both.gpkg", week, "--field", "field.geojson"}, {"each.gpkg", week, "--field", "one.geojson"}, {"each.gpkg", week, "--field", "other.geojson"}} {
			code, _, errs := run(t, append([]string{"season", "add"}, args...)...)
			require.Zero(t, code, errs)
		}
	}
	for _, s := range []string{"both", "each"} {
		code, _, errs := run(t, "compare", s+".gpkg", "--out", s)
		require.Zero(t, code, errs)
	}
	assert.ElementsMatch(t, comparedFields(t, "both"), comparedFields(t, "each"))
}
