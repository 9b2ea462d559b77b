package cli_test

import (
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const farmHive = `{"type":"Feature","properties":{"name":"NAME"},"geometry":{"type":"Point","coordinates":[-101.6053,35.8925]}}`

// The keep-offs of a farm stand in its settings, those of a day on the command line: none
// takes the place of another.
func TestKeepOffsOfSettingsAndFlagsAddUp(t *testing.T) {
	mapped(t)
	require.NoError(t, os.Mkdir("farm", 0o700))
	put(t, "farm/bees.geojson", strings.Replace(farmHive, "NAME", "bees", 1))
	put(t, "pond.geojson", strings.Replace(farmHive, "NAME", "pond", 1))
	put(t, "farm/job.toml", "swath = \"24m\"\nheading = 10\nkeep-off = [\"bees.geojson=50m\"]\n")
	code, out, errs := run(t, "handoff", "out", "--settings", "farm/job.toml", "--keep-off", "pond.geojson=20m", "--out", "job")
	require.Zero(t, code, errs)
	assert.Contains(t, out, "Keep off: bees by 50 m (164 ft); pond by 20 m")
	code, out, errs = run(t, "handoff", "out", "--settings", "farm/job.toml", "--keep-off", "farm/bees.geojson=50m", "--out", "twice")
	require.Zero(t, code, errs)
	assert.Equal(t, 1, strings.Count(out, "bees by 50 m"), "the same once more is one")
}

// Files that settings name lie from the settings' own folder, the rows too.
func TestRowsOfSettingsLieBesideThem(t *testing.T) {
	mapped(t)
	require.NoError(t, os.Mkdir("farm", 0o700))
	line := func(east string) string {
		return `{"type":"Feature","properties":{},"geometry":{"type":"LineString","coordinates":[[-101.6053,35.8925],[` + east + `]]}}`
	}
	put(t, "farm/rows.geojson", line("-101.6043,35.8925"))
	put(t, "rows.geojson", line("-101.6053,35.8935"))
	put(t, "farm/job.toml", "swath = \"24m\"\nrows = \"rows.geojson\"\n")
	code, _, errs := run(t, "handoff", "out", "--settings", "farm/job.toml", "--out", "job")
	require.Zero(t, code, errs)
	code, _, errs = run(t, "handoff", "out", "--swath", "24m", "--rows", "farm/rows.geojson", "--out", "flags")
	require.Zero(t, code, errs)
	assert.Equal(t, contents(t, "flags")["passes.geojson"], contents(t, "job")["passes.geojson"])
	put(t, "farm/job.toml", "swath = \"24m\"\nrows = \"12°\"\n")
	code, _, errs = run(t, "handoff", "out", "--settings", "farm/job.toml", "--out", "direction")
	require.Zero(t, code, errs)
}
