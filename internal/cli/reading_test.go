package cli_test

import (
	"os"
	"regexp"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/testkit"
)

// sources are cited, and not written by us.
var sources = regexp.MustCompile(`(?m)^ *(?:rule [a-z0-9-]+,|source:).*$`)

// The screens of the commands beside map, compare and handoff are plain as well.
func TestOtherScreensAreEasyToRead(t *testing.T) {
	walked := []string{"tally", "week2.csv", "--field", "field.geojson", "--only", "Pivot", "--counts", "negative-binomial", "--low", "25", "--high", "60", "--k", "0.5"}
	for name, args := range map[string][]string{
		"check": {"check", "week3.csv", "--field", "field.geojson"}, "plan": {"plan", "--field", "field.geojson", "--only", "Pivot", "--stops", "24", "--edge", "4", "--out", "walk"},
		"tally": walked, "card": {"tally", "--plan", "sorghum-tally-50", "--card", "--out", "card"}, "calibrate": {"calibrate", "pairs.csv", "--out", "eyes"},
		"season add": {"season", "add", "season.gpkg", "week1.csv", "--field", "field.geojson"}, "season list": {"season", "list", "season.gpkg"},
		"key": {"key", "--cornicles", "dark", "--feet", "dark", "--patch", "none"}, "drill": {"calibrate", "drill", "--out", "drill"},
	} {
		t.Run(name, func(t *testing.T) {
			inFolder(t)
			pairs := "observer,estimated,counted\n"
			for i := range 12 {
				pairs += []string{"A,40,50\n", "A,90,120\n", "B,10,9\n"}[i%3]
			}
			require.NoError(t, os.WriteFile("pairs.csv", []byte(pairs), 0o600))
			if name == "season list" {
				onScreen(t, 80, "season", "add", "season.gpkg", "week1.csv", "--field", "field.geojson")
			}
			said := sources.ReplaceAllString(onScreen(t, 4000, args...), "")
			testkit.AssertReads(t, said, 9, 25)
		})
	}
}
