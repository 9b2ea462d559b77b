package cli_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// inFirst keeps the counts of the first fields of lattices alone.
func inFirst(t *testing.T, fields int) {
	t.Helper()
	text, err := os.ReadFile("farm.csv")
	require.NoError(t, err)
	lines := strings.SplitAfter(string(text), "\n")
	put(t, "farm.csv", strings.Join(lines[:1+12*fields], ""))
}

// A folder of an earlier day does not stand for one of today, and a field that nobody
// walked is in the overview, whoever grows it.
func TestGrowersForWhomNobodyCounted(t *testing.T) {
	args := append(fourFields(t), "--fields", "fields.csv", "--by-grower")
	put(t, "fields.csv", "field,grower\nNorth,Ann Example\nSouth,Bo Example\nHill,Bo Example\nBrook,Cy Example\n")
	code, _, errs := run(t, args...)
	require.Zero(t, code, errs)
	inFirst(t, 1)
	before := contents(t, filepath.Join("out", "Ann-Example"))
	code, _, errs = run(t, args...)
	assert.Equal(t, 1, code)
	assert.Contains(t, errs, filepath.Join("out", "Bo-Example")+" holds an earlier map, and nothing in it is of this run")
	assert.Contains(t, errs, "hint: choose another folder with --out")
	assert.Equal(t, before, contents(t, filepath.Join("out", "Ann-Example")), "nothing is written")

	code, _, errs = run(t, append(args, "--out", "week2")...)
	require.Zero(t, code, errs)
	assert.Contains(t, errs, "note: Bo Example: nobody counted in South, Hill")
	assert.Equal(t, []string{"Ann-Example", "overview.csv", "overview.xlsx"}, names(t, "week2"))
	require.NoError(t, os.RemoveAll(filepath.Join("week2", "Ann-Example")))
	table := tableOf(t, "week2")
	require.Len(t, table, 5)
	assert.Equal(t, "North", table[1][0])
	assert.Equal(t, []string{"South", "Bo Example", "not scouted", "", "", "", "15.89", "39.27", "0", "", "", "", ""}, table[2])
	assert.Equal(t, []string{"Hill", "Bo Example", "not scouted"}, table[3][:3])
	assert.Equal(t, []string{"Brook", "Cy Example", "not scouted"}, table[4][:3])
	_, _, errs = run(t, append(args, "--out", "week3", "--quiet")...)
	assert.Empty(t, errs)
	summary, err := os.ReadFile(filepath.Join("week3", "Ann-Example", "summary.json"))
	require.NoError(t, err)
	assert.Contains(t, string(summary), "left out, as asked: --by-grower")
}

// A grower whom the list names no longer leaves a folder too.
func TestFoldersOfGrowersNoLongerListed(t *testing.T) {
	args := append(fourFields(t), "--fields", "fields.csv", "--by-grower")
	put(t, "fields.csv", "field,grower\nNorth,Ann Example\nSouth,Bo Example\nHill,Bo Example\nBrook,Bo Example\n")
	code, _, errs := run(t, args...)
	require.Zero(t, code, errs)
	put(t, "fields.csv", "field,grower\nNorth,Ann Example\nSouth,Ann Example\nHill,Ann Example\nBrook,Ann Example\n")
	code, _, errs = run(t, args...)
	assert.Equal(t, 1, code)
	assert.Contains(t, errs, filepath.Join("out", "Bo-Example")+" holds an earlier map")
	code, _, errs = run(t, append(args, "--force")...)
	require.Zero(t, code, errs)
	assert.Contains(t, errs, "note: "+filepath.Join("out", "Bo-Example")+" holds an earlier map")
}
