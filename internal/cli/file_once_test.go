package cli_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A flag of one file that is given twice drops neither in silence; the same one twice is one.
func TestAFlagOfOneFileTakesNoSecond(t *testing.T) {
	inFolder(t)
	for _, c := range []struct {
		args []string
		says string
	}{
		{[]string{"map", "week2.csv", "--field", "a.geojson", "--field=b.geojson", "--out", "out"}, "geocoris: --field was given twice, a.geojson and b.geojson\nhint: put the outlines into one file\n"},
		{[]string{"compare", "week1.csv", "week2.csv", "--treated", "a.geojson", "--treated", "b.geojson", "--out", "out"}, "geocoris: --treated was given twice, a.geojson and b.geojson\nhint: put the ground of both into one file\n"},
		{[]string{"season", "add", "s.gpkg", "week2.csv", "--settings", "a.toml", "--settings", "b.toml"}, "geocoris: --settings was given twice, a.toml and b.toml\nhint: it takes one file; put what both hold into one\n"},
	} {
		code, _, errs := run(t, c.args...)
		assert.Equal(t, 2, code, c.args)
		assert.Equal(t, c.says, errs)
	}
	code, _, errs := run(t, "map", "week2.csv", "--field", "field.geojson", "--field", "field.geojson", "--out", "out")
	require.Zero(t, code, errs)
}
