package cli_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// said is the one line that a command refuses with, and its hint.
func said(t *testing.T, args ...string) (line, hint string) {
	t.Helper()
	code, _, errs := run(t, args...)
	assert.NotZero(t, code, args)
	line, hint, _ = strings.Cut(errs, "\nhint: ")
	return strings.TrimPrefix(line, "geocoris: "), strings.TrimSpace(hint)
}

// What a system says of a file is said as people say it, by all commands.
func TestFilesThatCannotBeReadAreSaidInPlainWords(t *testing.T) {
	inFolder(t)
	require.NoError(t, os.Mkdir("empty", 0o700))
	long := strings.Repeat("x", 300)
	commands := func(path string) [][]string {
		return [][]string{
			{"map", path, "--field", "field.geojson", "--out", "o"}, {"map", "week2.csv", "--field", path, "--out", "o"},
			{"map", "week2.csv", "--field", "field.geojson", "--out", "o", "--settings", path}, {"map", "week2.csv", "--field", "field.geojson", "--out", "o", "--rules", path},
			{"check", path}, {"compare", path, "week2.csv", "--field", "field.geojson", "--out", "o"},
			{"handoff", path, "--swath", "24m", "--out", "o"}, {"report", path}, {"plan", "--field", path, "--stops", "8", "--out", "o"}, {"calibrate", path},
			{"season", "list", path}, {"season", "show", path, "1"}, {"season", "export", path, "--out", "o"}, {"season", "copy", path, "new.gpkg"},
		}
	}
	for path, want := range map[string]string{
		"none.gpkg":   "none.gpkg is not there",
		"none/a.gpkg": "none/a.gpkg is not there, nor is its folder",
		"week2.csv/x": "week2.csv/x is not there: a part of its path is a file, not a folder",
		long:          strings.Repeat("x", 120) + "…: the name is too long",
	} {
		for _, args := range commands(filepath.FromSlash(path)) {
			line, hint := said(t, args...)
			assert.Equal(t, filepath.FromSlash(want), line, args[:2])
			assert.NotEmpty(t, hint, args[:2])
		}
	}
	for _, args := range commands("week2.cvs") {
		_, hint := said(t, args...)
		assert.Equal(t, "did you mean week2.csv?", hint, args[:2])
	}
	for _, args := range [][]string{{"season", "list", "empty"}, {"season", "add", "empty", "week2.csv", "--field", "field.geojson"}, {"season", "copy", "empty", "s.gpkg"}} {
		line, hint := said(t, args...)
		assert.Equal(t, "empty is a folder, not a file", line, args)
		assert.Equal(t, "name the file in it, such as "+filepath.Join("empty", "season.gpkg"), hint, args)
	}
	line, _ := said(t, "season", "add", filepath.Join("none", "s.gpkg"), "week2.csv", "--field", "field.geojson")
	assert.Equal(t, filepath.Join("none", "s.gpkg")+" is not there, nor is its folder", line)
	line, hint := said(t, "serve", "week2.csv")
	assert.Equal(t, "week2.csv is a file, and a folder is wanted; give the folder that the files lie in", line+"; "+hint)
	assert.NoFileExists(t, "new.gpkg")
	assert.NoDirExists(t, "o")
}

// A command typed without what it needs says what is missing, and shows a line to type.
func TestWhatIsMissingOrTooMuchIsNamed(t *testing.T) {
	inFolder(t)
	for typed, want := range map[string][2]string{
		"handoff":            {"handoff: MAPDIR or ZONES is missing", "such as geocoris handoff out --swath 24m --out job"},
		"report":             {"report: FOLDER is missing", "such as geocoris report out"},
		"season merge a":     {"season merge: FROM is missing", "such as geocoris season merge "},
		"season show":        {"season show: SEASON is missing", "such as geocoris season show "},
		"season show a 1 2":  {`"2" is one too many: season show takes SEASON and VISIT`, "quotes"},
		"season lst":         {`unknown command "lst" for "geocoris season"`, "did you mean geocoris season list?"},
		"plan field.geojson": {`"field.geojson": plan takes flags alone, with two dashes`, "such as geocoris plan --field field.geojson"},
		"map a --field":      {"--field: its value is missing", "give --field FILE: "},
	} {
		code, _, errs := run(t, strings.Fields(typed)...)
		assert.Equal(t, 2, code, typed)
		line, hint, _ := strings.Cut(errs, "\nhint: ")
		assert.Equal(t, "geocoris: "+want[0], line, typed)
		assert.Contains(t, hint, want[1], typed)
	}
}

// A boundary given for counts, or counts for a boundary, is seen for what it is.
func TestSwappedFilesAreSaidToBe(t *testing.T) {
	inFolder(t)
	for _, args := range [][]string{
		{"map", "field.geojson", "--field", "week1.csv", "--out", "o"}, {"check", "field.geojson", "--field", "week1.csv"},
		{"season", "add", "s.gpkg", "field.geojson", "--field", "week1.csv"}, {"plan", "--field", "week1.csv", "--stops", "8", "--out", "o"},
		{"compare", "field.geojson", "week2.csv", "--field", "week1.csv", "--out", "o"},
	} {
		line, hint := said(t, args...)
		assert.Equal(t, "week1.csv: holds counts and no outline of a field", line, args)
		assert.Contains(t, hint, "are the two swapped?", args)
	}
	line, hint := said(t, "map", "field.geojson", "--field", "field.geojson", "--out", "o")
	assert.Equal(t, "field.geojson: holds 2 outlines of ground and no counts", line)
	assert.Contains(t, hint, "are the two swapped?")
}

// The folder of a map is found where a file in it was given, or the folder around it.
func TestTheFolderOfAMapIsFound(t *testing.T) {
	inFolder(t)
	code, _, errs := run(t, week("2")...)
	require.Zero(t, code, errs)
	for _, command := range [][]string{{"report"}, {"handoff", "--swath", "24m", "--out", "job"}, {"compare", "week1.csv", "--field", "field.geojson", "--out", "o"}} {
		for given, want := range map[string]string{
			".":                                   ". is no folder that map wrote, but holds one",
			filepath.Join("out", "run.json"):      filepath.Join("out", "run.json") + " is one of the files that map wrote, and their folder is wanted",
			filepath.Join("out", "stops.geojson"): filepath.Join("out", "stops.geojson") + " is one of the files that map wrote, and their folder is wanted",
		} {
			line, hint := said(t, append(command, given)...)
			assert.Equal(t, want, line, command)
			assert.Equal(t, "give out", hint, command)
		}
	}
	run(t, "map", "week3.csv", "--field", "field.geojson", "--out", "third")
	_, hint := said(t, "report", ".")
	assert.Equal(t, "give out, or another of the 2 folders in it that map wrote", hint)
}
