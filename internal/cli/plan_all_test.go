package cli_test

import (
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestPlanOfAllFields(t *testing.T) {
	lattices(t, []lattice{{"North/1", nil}, {"North 1", nil}, {"Home", nil}})
	code, out, errs := run(t, "plan", "--field", "farm.geojson", "--all", "--stops", "6", "--out", "walks")
	require.Zero(t, code, errs)
	assert.Equal(t, []string{"Home", "North-1", "North-1-2"}, names(t, "walks"))
	assert.Contains(t, out, "Home\n")
	for field, folder := range map[string]string{"North/1": "North-1", "North 1": "North-1-2", "Home": "Home"} {
		if strings.Contains(field, " ") {
			field = `"` + field + `"`
		}
		assert.Contains(t, out, "geocoris map "+filepath.Join("walks", folder, "stops.csv")+" --field farm.geojson --only "+field+" --out ", "each is mapped as itself")
	}
	code, _, errs = run(t, "plan", "--field", "farm.geojson", "--only", "North 1", "--stops", "6", "--out", "one")
	require.Zero(t, code, errs)
	assert.Equal(t, contents(t, "one"), contents(t, filepath.Join("walks", "North-1-2")), "each is planned as it would be alone")

	code, _, errs = run(t, "plan", "--field", "farm.geojson", "--all", "--only", "Home", "--stops", "6", "--out", "more")
	assert.Equal(t, 2, code)
	assert.Contains(t, errs, "leave out --only")
	code, _, errs = run(t, "plan", "--field", "farm.geojson", "--stops", "6", "--out", "more")
	assert.Equal(t, 1, code)
	assert.Contains(t, errs, "or plan each with --all")
	code, _, errs = run(t, "plan", "--field", "farm.geojson", "--all", "--stops", "6", "--inside", "199", "--out", "more")
	assert.NotZero(t, code)
	assert.Contains(t, errs, `field "North/1": `)
	assert.NoDirExists(t, "more")
}
