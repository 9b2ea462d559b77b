package cli_test

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/testkit"
)

// dataTolerance is how far numbers of the golden data may be off: processors round
// differently, by far less than the seventh decimal of a degree, the last that is
// written.
const dataTolerance = 2e-7

// The data of the demo, as people's programs take them: what a command writes is
// compared member by member, not byte by byte.
func TestDataOfTheDemo(t *testing.T) {
	inFolder(t)
	for _, c := range []struct {
		name  string
		args  []string
		files []string
	}{
		{"week1", week("1"), []string{"zones.geojson", "stops.geojson", "summary.json", "run.json"}},
		{"week2", week("2"), []string{"zones.geojson", "stops.geojson", "summary.json", "run.json"}},
		{"week3", week("3"), []string{"zones.geojson", "stops.geojson", "summary.json", "run.json"}},
		{"week3_rule", week("3", "--rule", "sorghum-aphid-texas-mean", "--stage", "boot"), []string{"summary.json"}},
		{"weeks", []string{"compare", "week1.csv", "week2.csv", "week3.csv", "--field", "field.geojson", "--forecast", "2026-07-29", "--out", "out"},
			[]string{"change.geojson", "hotspots.geojson", "forecast.geojson", "compare.json", "run.json"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.NoError(t, os.RemoveAll("out"))
			code, _, errs := run(t, c.args...)
			require.Zero(t, code, errs)
			for _, file := range c.files {
				got, err := os.ReadFile(filepath.Join("out", file))
				require.NoError(t, err)
				testkit.GoldenJSON(t, filepath.Join("data", c.name, file), got, dataTolerance)
			}
		})
	}
}
