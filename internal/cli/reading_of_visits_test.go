package cli_test

import (
	"os"
	"regexp"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Each visit is read as it was added, or mapped, whatever the next one asked for: a day that
// only a flag told is the same day next week, in a season and in a folder.
func TestVisitsAreReadAsTheyWereAdded(t *testing.T) {
	inFolder(t)
	redated(t, "week1.csv", "07/08/2026")
	redated(t, "week2.csv", "14/08/2026") // which tells day from month
	const days = "Friday 7 August to Friday 14 August 2026"
	dayFirst := func(args ...string) []string { return append(args, "--date-order", "day-first") }
	for _, args := range [][]string{
		dayFirst("season", "add", "s.gpkg", "week1.csv", "--field", "field.geojson"),
		{"season", "add", "s.gpkg", "week2.csv", "--field", "field.geojson"},
		dayFirst("map", "week1.csv", "--field", "field.geojson", "--out", "m1"),
		{"map", "week2.csv", "--field", "field.geojson", "--out", "m2"},
	} {
		code, _, errs := run(t, args...)
		require.Zero(t, code, errs)
	}
	for name, args := range map[string][]string{
		"season": {"s.gpkg"}, "folders": {"m1", "m2"}, "asked for all": dayFirst("week1.csv", "week2.csv", "--field", "field.geojson"),
	} {
		code, out, errs := run(t, append(append([]string{"compare"}, args...), "--out", "of "+name)...)
		require.Zero(t, code, errs)
		assert.Contains(t, out, days, name)
	}
	// What the call asks for goes for all visits.
	code, out, errs := run(t, "compare", "s.gpkg", "--date-order", "month-first", "--out", "asked otherwise")
	require.Zero(t, code, errs)
	assert.Contains(t, out, "Wednesday 8 July to Friday 14 August 2026")
}

// redated gives all rows of a file one day.
func redated(t *testing.T, name, day string) {
	t.Helper()
	text, err := os.ReadFile(name)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(name, regexp.MustCompile(`2026-\d\d-\d\dT[^,]*`).ReplaceAll(text, []byte(day)), 0o644))
}
