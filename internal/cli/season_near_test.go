package cli_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A name typed wrongly makes a second season, and the weeks are parted: that is said, and a
// season given for counts is seen for what it is.
func TestASecondSeasonOfNearlyTheSameNameIsNoticed(t *testing.T) {
	inFolder(t)
	add := func(season, week string) (int, string) {
		code, _, errs := run(t, "season", "add", season, week, "--field", "field.geojson")
		return code, errs
	}
	code, errs := add("season.gpkg", "week1.csv")
	require.Zero(t, code, errs)
	assert.NotContains(t, errs, "meant")
	code, errs = add("seson.gpkg", "week2.csv")
	require.Zero(t, code, errs)
	assert.Contains(t, errs, "note: seson.gpkg is a new season, and season.gpkg lies beside it: was that one meant?")
	_, errs = add("seson.gpkg", "week3.csv")
	assert.NotContains(t, errs, "meant", "which is there now")
	_, errs = add("farm 2.gpkg", "week2.csv")
	assert.NotContains(t, errs, "meant")

	line, hint := said(t, "season", "add", "week2.csv", "season.gpkg", "--field", "field.geojson")
	assert.Equal(t, "season.gpkg is a season, and counts are wanted", line)
	assert.Contains(t, hint, "the season stands first")
}
