package cli_test

import (
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestNumbersOfVisitsAreAskedForInPlainWords(t *testing.T) {
	inFolder(t)
	for n := range 3 {
		args := []string{"season", "add", "s.gpkg", "week" + string('1'+rune(n)) + ".csv", "--field", "field.geojson"}
		code, _, errs := run(t, args...)
		require.Zero(t, code, errs)
	}
	for _, c := range []struct{ args, value, shown string }{
		{"compare s.gpkg --out x --without", "2 3", "2 3"},
		{"compare s.gpkg --out x --without", "", `""`},
		{"compare s.gpkg --out x --without", "2,3x", "2,3x"},
		{"compare s.gpkg --out x --without", "0", "0"},
		{"season add s.gpkg week1.csv --field field.geojson --replace-visit", "a", "a"},
		{"season export s.gpkg --out back --visit", "1;2", "1;2"},
	} {
		args := strings.Fields(c.args)
		code, _, errs := run(t, append(args, c.value)...)
		assert.Equal(t, 2, code, c)
		assert.Contains(t, errs, args[len(args)-1]+" "+c.shown+": want numbers of visits parted by commas, such as 2,3")
		assert.NotContains(t, errs, "strconv")
		assert.NotContains(t, errs, "point")
	}
	code, _, errs := run(t, "season", "export", "s.gpkg", "--out", "back", "--visit", "1, 2", "--visit", "2")
	require.Zero(t, code, errs)
	assert.FileExists(t, "back/week2.csv")
	code, _, errs = run(t, "compare", "s.gpkg", "--out", "x", "--without", "1,2", "--without", "3")
	assert.Equal(t, 2, code)
	assert.Contains(t, errs, "--without: no visit is left")
	assert.NotContains(t, errs, "no visits yet")
	_, out, _ := run(t, "season", "add", "--help")
	assert.NotContains(t, out, "default []")
}

func TestAnAuthorIsANameOfALine(t *testing.T) {
	inFolder(t)
	add := func(author string) (int, string) {
		code, _, errs := run(t, "season", "add", "s.gpkg", "week1.csv", "--field", "field.geojson", "--author", author)
		return code, errs
	}
	code, errs := add(strings.Repeat("é", 101))
	assert.Equal(t, 2, code)
	assert.Contains(t, errs, "--author has 101 characters: want at most 100")
	for _, odd := range []string{"An\x1b[31mna", "An\u202ena", "An\xffna", "An\x00na"} {
		code, errs = add(odd)
		assert.Equal(t, 2, code, "%q", odd)
		assert.Contains(t, errs, "--author: want a name of letters that can be seen")
	}
	assert.NoFileExists(t, "s.gpkg")
	code, errs = add(strings.Repeat("é", 100))
	assert.Zero(t, code, errs)
}

// A day put right in the file replaces the visit; a replacement of nothing is told.
func TestReplacingNothingIsTold(t *testing.T) {
	inFolder(t)
	add := func(args ...string) (int, string) {
		code, _, errs := run(t, append([]string{"season", "add", "s.gpkg", "--field", "field.geojson"}, args...)...)
		return code, errs
	}
	code, errs := add("week1.csv", "--replace")
	require.Zero(t, code, errs)
	assert.Contains(t, errs, "note: --replace found no visit of the same day, or of the same counts, to replace")
	text, err := os.ReadFile("week1.csv")
	require.NoError(t, err)
	require.NoError(t, os.WriteFile("week1b.csv", []byte(strings.ReplaceAll(string(text), "2026-07-08", "2026-07-09")), 0o600))
	code, errs = add("week1b.csv")
	assert.Equal(t, 1, code)
	assert.Contains(t, errs, "the season holds these counts already, as visit 1 of 2026-07-08")
	code, errs = add("week1b.csv", "--replace")
	require.Zero(t, code, errs)
	assert.Contains(t, errs, "visit 1 was replaced, as asked")
	assert.NotContains(t, errs, "found no visit")

	// Others are told by the words of the command what stays, and why.
	code, errs = add("week2.csv", "--author", "Anna")
	require.Zero(t, code, errs)
	code, errs = add("week2.csv", "--author", "Anna", "--replace-visit", "1")
	assert.Equal(t, 1, code)
	assert.Contains(t, errs, "hint: nothing was changed; season list shows")
	code, errs = add("week2.csv", "--watch-at", "3", "--replace")
	assert.Equal(t, 1, code)
	assert.Contains(t, errs, "it was brought by Anna")
	assert.Contains(t, errs, "if that one is yours, say so with --author")
}
