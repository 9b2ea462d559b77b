package cli_test

import (
	"os"
	"regexp"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/testkit"
)

// sources are cited, and not written by us.
var sources = regexp.MustCompile(`(?m)^ *(?:rule [a-z0-9-]+,|(?:counting )?source:).*$|; [^;\n]*\d{4}[^;\n]*$`)

// So is each published rule, and a threshold that is worked out.
func TestRulesAreEasyToRead(t *testing.T) {
	inFolder(t)
	list := onScreen(t, 4000, "rules")
	testkit.AssertReads(t, sources.ReplaceAllString(list, ""), 9, 25)
	names := regexp.MustCompile(`(?m)^([a-z0-9-]+): `).FindAllStringSubmatch(list, -1)
	require.Greater(t, len(names), 10)
	for _, name := range names {
		t.Run(name[1], func(t *testing.T) {
			testkit.AssertReads(t, sources.ReplaceAllString(onScreen(t, 4000, "rules", name[1]), ""), 9, 25)
		})
	}
	worked := onScreen(t, 4000, "rules", "compute", "--cost", "12", "--price", "4", "--loss", "0.02", "--control", "0.9", "--doubling", "4.2", "--lead", "5")
	testkit.AssertReads(t, worked, 9, 25)
}

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
