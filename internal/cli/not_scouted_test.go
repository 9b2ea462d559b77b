package cli_test

import (
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Who takes the zones of a map further is told of the fields that have none, as nobody was
// there: by the hand-off, and beside the files of all fields in one.
func TestFieldsNotScoutedAreSaidFurtherOn(t *testing.T) {
	inFolder(t)
	counts, err := os.ReadFile("week2.csv")
	require.NoError(t, err)
	rows := strings.SplitAfter(string(counts), "\n")
	require.NoError(t, os.WriteFile("week2.csv", []byte(strings.Join(rows[:44], "")), 0o644)) // those of Pivot
	code, out, errs := run(t, week("2", "--write", "zones.geojsons")...)
	require.Zero(t, code, errs)
	assert.Contains(t, strings.Join(strings.Fields(out), " "), "Note: zones.geojsons has no ground for fields not scouted, and nothing says they are clear: Corner block")
	assert.NotContains(t, contents(t, "out")["zones.geojsons"], "Corner block")

	code, out, errs = run(t, "handoff", "out", "--swath", "24m", "--out", "job")
	require.Zero(t, code, errs)
	const note = "no job for fields not scouted, and nothing says they are clear: Corner block"
	assert.Contains(t, strings.Join(strings.Fields(out), " "), note)
	assert.Contains(t, contents(t, "job")["handoff.json"], note)
	code, out, errs = run(t, "handoff", "out", "--swath", "24m", "--only", "Pivot", "--out", "job")
	require.Zero(t, code, errs)
	assert.NotContains(t, out, "not scouted", "of fields that nobody asked for nothing is said")

	code, out, errs = run(t, week("2", "--only", "Pivot", "--write", "zones.geojsons")...)
	require.Zero(t, code, errs)
	assert.NotContains(t, out+errs, "not scouted")
}
