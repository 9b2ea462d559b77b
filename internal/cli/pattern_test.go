package cli_test

import (
	"encoding/json"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func inputPaths(t *testing.T, folder string) (paths []string) {
	t.Helper()
	var record struct{ Inputs []struct{ Path string } }
	require.NoError(t, json.Unmarshal([]byte(contents(t, folder)["run.json"]), &record))
	for _, in := range record.Inputs {
		paths = append(paths, in.Path)
	}
	return paths
}

func put(t *testing.T, name, text string) {
	t.Helper()
	require.NoError(t, os.WriteFile(name, []byte(text), 0o600))
}

func TestPatternsNameFiles(t *testing.T) {
	inFolder(t)
	header, rows, _ := strings.Cut(contents(t, ".")["week2.csv"], "\n")
	lines := strings.SplitAfter(rows, "\n")
	put(t, "half1.csv", header+"\n"+strings.Join(lines[:40], ""))
	put(t, "half2.csv", header+"\n"+strings.Join(lines[40:], ""))
	code, _, errs := run(t, "map", "half[12].csv", "--field", "field.geojson", "--out", "out")
	require.Zero(t, code, errs)
	assert.Equal(t, []string{"half1.csv", "half2.csv", "field.geojson"}, inputPaths(t, "out"))

	code, _, errs = run(t, "map", "half2.csv", "half[12].csv", "--field", "field.geojson", "--out", "out")
	require.Zero(t, code, errs)
	assert.Equal(t, []string{"half2.csv", "half1.csv", "field.geojson"}, inputPaths(t, "out"), "none comes twice")

	require.NoError(t, os.Rename("week3.csv", "half[12].csv"))
	code, _, errs = run(t, "map", "half[12].csv", "--field", "field.geojson", "--out", "out")
	require.Zero(t, code, errs)
	assert.Equal(t, []string{"half[12].csv", "field.geojson"}, inputPaths(t, "out"), "a file of that very name goes first")

	for _, command := range [][]string{
		{"map", "counts/*.csv", "--field", "field.geojson", "--out", "none"}, {"check", "counts/*.csv"}, {"compare", "counts/*.csv", "--out", "none"},
		{"season", "add", "s.gpkg", "counts/*.csv", "--field", "field.geojson"}, {"calibrate", "counts/*.csv"},
	} {
		code, _, errs := run(t, command...)
		assert.Equal(t, 1, code, command)
		assert.Contains(t, errs, "geocoris: counts/*.csv: no file matches\nhint: ", command)
		assert.NoDirExists(t, "none")
	}
	code, _, errs = run(t, "check", "week[1.csv")
	assert.Equal(t, 2, code)
	assert.Contains(t, errs, "week[1.csv is no pattern of file names")
}

func TestCalibrateTakesSeveralFiles(t *testing.T) {
	t.Chdir(t.TempDir())
	first := "observer,estimated,counted\nA,10,12\nA,20,25\nA,5,5\nA,40,44\nA,80,90\n"
	second := "observer,estimated,counted\nA,15,17\nA,22,28\nA,6,7\nA,42,47\nA,90,99\n"
	put(t, "one.csv", first)
	put(t, "two.csv", second)
	put(t, "both.csv", first+second[len("observer,estimated,counted\n"):])
	code, want, errs := run(t, "calibrate", "both.csv", "--details")
	require.Zero(t, code, errs)
	code, got, errs := run(t, "calibrate", "one.csv", "two.csv", "--details")
	require.Zero(t, code, errs)
	assert.Equal(t, want, got)
	assert.Contains(t, got, "rows: 10 read, 10 used")

	put(t, "copy.csv", first)
	code, _, errs = run(t, "calibrate", "one.csv", "copy.csv")
	assert.Equal(t, 1, code)
	assert.Contains(t, errs, "copy.csv holds the same pairs as one.csv")
}
