package cli_test

import (
	"encoding/json"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Two scouts walk half a field each, and the second is not told to throw the first half away:
// given at once, or merged, both are one visit, of which compare finds what it finds of the whole.
func TestTwoHalvesOfAWalkAreOneVisit(t *testing.T) {
	inFolder(t)
	text, err := os.ReadFile("week2.csv")
	require.NoError(t, err)
	rows := strings.SplitAfter(string(text), "\n")
	for name, part := range map[string][]string{"west.csv": rows[1:21], "east.csv": rows[21:44], "whole.csv": rows[1:44]} {
		require.NoError(t, os.WriteFile(name, []byte(rows[0]+strings.Join(part, "")), 0o644))
	}
	add := func(args ...string) (code int, errs string) {
		code, _, errs = run(t, append([]string{"season", "add", "--field", "field.geojson"}, args...)...)
		return code, errs
	}
	for _, args := range [][]string{{"office.gpkg", "west.csv"}, {"anna.gpkg", "west.csv", "--author", "Anna"}, {"anna.gpkg", "week1.csv", "--author", "Anna"}, {"ben.gpkg", "east.csv", "--author", "Ben"}} {
		code, errs := add(args...)
		require.Zero(t, code, errs)
	}
	for _, replace := range []string{"", "--replace"} {
		code, errs := add(strings.Fields("office.gpkg east.csv " + replace)...)
		assert.Equal(t, 1, code)
		assert.Contains(t, errs, "holds counts of Pivot on 2026-07-15 at other places, as visit 1 (west.csv)")
		assert.Contains(t, errs, "geocoris season add --replace takes the files of both at once: west.csv, which season export gives back, and east.csv; if not, --replace-visit 1 puts")
	}
	code, errs := add("office.gpkg", "west.csv", "east.csv", "--replace")
	require.Zero(t, code, errs)
	code, errs = add("anna.gpkg", "east.csv", "--author", "Ben")
	assert.Equal(t, 1, code)
	assert.Contains(t, errs, "that one is Anna's: add these counts to a season of your own; season merge keeps both, and compare takes parts of one walk as one visit")

	code, _, errs = run(t, "season", "merge", "both.gpkg", "anna.gpkg", "ben.gpkg")
	require.Zero(t, code, errs)
	assert.Contains(t, errs, "are parts of one walk of Pivot on 2026-07-15; compare takes them as one visit")
	code, out, errs := run(t, "season", "list", "both.gpkg")
	require.Zero(t, code, errs)
	assert.Contains(t, out, "Pivot, 2026-07-15: counted in parts, by visits 2 (")
	assert.NotContains(t, out, "--without")
	code, out, errs = run(t, "season", "show", "both.gpkg", "2")
	require.Zero(t, code, errs)
	assert.NotContains(t, out, `--field ""`, "a season has no file of its fields")
	for folder, of := range map[string]string{"plain": "week1.csv whole.csv --field field.geojson", "merged": "both.gpkg"} {
		code, _, errs = run(t, append([]string{"compare", "--out", folder}, strings.Fields(of)...)...)
		require.Zero(t, code, errs)
	}
	var said [2]struct{ Fields []struct{ Visits any } }
	for i, folder := range []string{"plain", "merged"} {
		require.NoError(t, json.Unmarshal([]byte(contents(t, folder)["compare.json"]), &said[i]))
		require.Len(t, said[i].Fields, 1)
	}
	assert.Equal(t, said[0], said[1])
}
