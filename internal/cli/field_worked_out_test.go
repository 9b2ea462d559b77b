package cli_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The zones that a map writes are no fields of another.
func TestZonesOfAMapAreNoFields(t *testing.T) {
	inFolder(t)
	code, _, errs := run(t, "map", "week1.csv", "--field", "field.geojson", "--out", "out")
	require.Zero(t, code, errs)
	for _, file := range []string{"out/zones.geojson", "out/zones.kml"} {
		code, _, errs = run(t, "map", "week1.csv", "--field", file, "--out", "again")
		assert.Equal(t, 1, code)
		assert.Contains(t, errs, "this is a zone of a map, not a field\nhint: give the file of the field's outline, as the map was made with\n")
		assert.NoDirExists(t, "again")
	}
}
