package cli_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A field may be called River. The screen says why it is taken for one, and no longer that it
// was left out; without a grower it is asked about, with what the counts can say.
func TestAFieldCalledRiverIsMapped(t *testing.T) {
	args := lattices(t, []lattice{{"Hill", alike(250)}, {"River", alike(30)}})
	farm := contents(t, ".")["farm.geojson"]
	_, _, errs := run(t, args...)
	assert.Contains(t, errs, `stops lie in "River", which is no field, by its name: correct their positions; if it is a field, rename it, or name it in a column field of the counts`)
	put(t, "farm.geojson", strings.Replace(farm, `"name":"River"`, `"name":"River","grower":"Olde"`, 1))
	code, out, errs := run(t, append(args, "--details")...)
	require.Zero(t, code, errs)
	assert.Contains(t, summaryOf(t, "out"), "River")
	assert.Contains(t, out, `"River" is named like ground that is no field, but 12 stops lie in it and it has a grower: taken for a field`)
	assert.NotContains(t, out, "lies in none")
	code, out, errs = run(t, "check", args[1], "--field", "farm.geojson")
	require.Zero(t, code, errs)
	assert.Contains(t, out, "River: 12 stops")
}
