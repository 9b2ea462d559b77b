package cli_test

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var (
	nextLine     = regexp.MustCompile(`(?m)^(?:Next|After the spray|After the spray, for each field):\n  geocoris (.*)$`)
	blanksFilled = strings.NewReplacer("WIDTH", "24m", "DAY", "2026-07-17", "AREA", "15.5ac", "NAME=AMOUNT", "a=3lb", "NAME", "somebody")
)

// followed runs the command that a screen ends with, blanks filled in, and gives its screen.
func followed(t *testing.T, screen, wants string) string {
	t.Helper()
	line := nextLine.FindStringSubmatch(screen)
	require.NotNil(t, line, screen)
	require.True(t, strings.HasPrefix(line[1], wants), line[1])
	code, out, errs := run(t, strings.Fields(blanksFilled.Replace(line[1]))...)
	require.Equal(t, 0, code, errs)
	return out
}

// From one screen to the next, each command runs as it is printed there.
func TestEachScreenNamesTheNextCommand(t *testing.T) {
	t.Chdir(t.TempDir())
	code, _, errs := run(t, "demo", ".")
	require.Equal(t, 0, code, errs)
	code, checked, errs := run(t, "check", "week2.csv", "--field", "field.geojson", "--out", "./out")
	require.Equal(t, 0, code, errs)
	followed(t, checked, "map week2.csv --field field.geojson --out out-map")
	require.NoError(t, os.RemoveAll("out"))
	code, checked, errs = run(t, "check", "week2.csv", "--field", "field.geojson")
	require.Equal(t, 0, code, errs)
	_, refused, _ := run(t, "check", "week3.csv", "--field", "field.geojson")
	assert.Contains(t, refused, "\n\nOnce the refused rows are put right:\n  geocoris map week3.csv --field field.geojson --out out\n")
	// In copies, and in sums of rows, nothing is wrong.
	counts, err := os.ReadFile("week2.csv")
	require.NoError(t, err)
	rows := strings.SplitAfter(strings.TrimSpace(string(counts))+"\n", "\n")
	require.NoError(t, os.WriteFile("summed.csv", []byte(strings.Join(rows, "")+rows[5]+"Total,,,5000,400,,,,,,\n"), 0o600))
	_, summed, errs := run(t, "check", "summed.csv", "--field", "field.geojson")
	assert.Contains(t, summed, " 2 set aside", errs)
	assert.Contains(t, summed, "\n\nNext:\n  geocoris map summed.csv --field field.geojson --out out\n")
	mapped := followed(t, checked, "map week2.csv --field field.geojson --out out")
	handed := followed(t, mapped, "handoff out --swath WIDTH --out out-job")
	code, slashed, errs := run(t, "map", "week2.csv", "--field", "field.geojson", "--out", "slash/")
	require.Equal(t, 0, code, errs)
	followed(t, slashed, "handoff slash/ --swath WIDTH --out slash-job")
	followed(t, handed, "record out --field Pivot --date DAY")
	code, handed, errs = run(t, "handoff", filepath.Join("out", "zones.geojson"), "--swath", "24m", "--out", "alone")
	require.Equal(t, 0, code, errs)
	assert.Contains(t, handed, "  geocoris record out --field Pivot --date DAY")

	code, first, errs := run(t, "season", "add", "s.gpkg", "week1.csv", "--field", "field.geojson")
	require.Equal(t, 0, code, errs)
	assert.NotContains(t, first, "Next:", "one visit has nothing to be compared with")
	code, second, errs := run(t, "season", "add", "s.gpkg", "week2.csv", "--field", "field.geojson")
	require.Equal(t, 0, code, errs)
	followed(t, second, "compare s.gpkg --out change")
	text, err := os.ReadFile("week1.csv")
	require.NoError(t, err)
	lines := strings.SplitAfter(string(text), "\n")
	for name, rows := range map[string][]string{"pivot.csv": lines[1:40], "corner.csv": lines[len(lines)-5:]} {
		require.NoError(t, os.WriteFile(name, []byte(lines[0]+strings.Join(rows, "")), 0o600))
		code, second, errs = run(t, "season", "add", "apart.gpkg", name, "--field", "field.geojson")
		require.Equal(t, 0, code, errs)
		assert.NotContains(t, second, "Next:", "visits to two fields have nothing to be compared with")
	}

	// Nothing follows where nothing is to be sprayed, no boundary is known, or a program reads.
	for _, args := range [][]string{
		{"map", "week1.csv", "--field", "field.geojson", "--out", "first"},
		{"map", "week2.csv", "--field", "field.geojson", "--out", "second", "--quiet"},
		{"map", "week2.csv", "--field", "field.geojson", "--out", "third", "--json"},
		{"check", "week2.csv", "--field", "field.geojson", "--json"},
		{"check", "week2.csv"},
		{"handoff", filepath.Join("out", "zones.geojson"), "--swath", "24m", "--out", "other", "--json"},
	} {
		code, out, errs := run(t, args...)
		require.Equal(t, 0, code, errs)
		assert.NotRegexp(t, nextLine, out, args)
	}
}

// What was looked over by settings is mapped by the same: without them it would be read, and
// judged, otherwise.
func TestTheNextCommandCarriesWhatWasGiven(t *testing.T) {
	inFolder(t)
	put(t, "bugs.csv", strings.Replace(contents(t, ".")["week2.csv"], "count", "bugs", 1))
	put(t, "farm.toml", "field = \"field.geojson\"\ntreat-at = 50\nout = \"farm-map\"\npest = \"sorghum aphid\"\n")
	code, out, errs := run(t, "check", "week2.csv", "--settings", "farm.toml")
	require.Zero(t, code, errs)
	assert.Contains(t, out, `outside field "Pivot"`, "the file names the boundary")
	assert.NoDirExists(t, "farm-map")
	mapped := followed(t, out, "map week2.csv --settings farm.toml --out out")
	assert.Contains(t, mapped, "spray at 50 a leaf")

	code, out, errs = run(t, "check", "bugs.csv", "--field", "field.geojson", "--map", "bugs=count", "--one-visit", "--date-order", "month-first", "--utc-offset=-5")
	require.Zero(t, code, errs)
	followed(t, out, "map bugs.csv --field field.geojson --one-visit --map bugs=count --utc-offset -05:00 --date-order month-first --out out")
}
