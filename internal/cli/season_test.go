package cli_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/testkit"
)

// inSeason makes a season of the invented weeks 1 and 2 and an invented spray.
func inSeason(t *testing.T) {
	t.Helper()
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
}

func TestSeasonScreens(t *testing.T) {
	for name, args := range map[string][]string{
		"help_season": {"season", "--help"},
		"season_list": {"season", "list", "s.gpkg"},
	} {
		t.Run(name, func(t *testing.T) {
			inSeason(t)
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
	code, screen, errs := run(t, "season", "show", "s.gpkg", "--units", "us")
	require.Zero(t, code, errs)
	assert.Contains(t, screen, "Pivot, 123.8 ac")
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

func TestGDALReadsTheSeason(t *testing.T) {
	inSeason(t)
	out := testkit.Program(t, nil, "ogrinfo", "-ro", "-al", "s.gpkg")
	assert.Contains(t, out, "pest (String) = sorghum aphid")
	assert.NotContains(t, out, "Warning")
	assert.Equal(t, 1, strings.Count(out, "Layer name: zones"))
	assert.Contains(t, out, `rows (String) = ["week1.csv:2"]`)
}
