package cli_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A count of which nothing tells on how many leaves it was made may be ten times too
// high: that is what to look out for first. Under another name the leaves are read.
func TestRowsTakenForOneLeafAreSaidFirst(t *testing.T) {
	inFolder(t)
	dir := t.TempDir()
	text, err := os.ReadFile("week2.csv")
	require.NoError(t, err)
	for name, c := range map[string]struct {
		header string
		said   bool
	}{"leaves": {"Leaves looked at", false}, "none": {"", true}, "other": {"effort code", true}} {
		var rows []string
		for i, row := range strings.Split(strings.TrimSpace(string(text)), "\n") {
			cells := strings.Split(row, ",")
			switch {
			case c.header == "":
				cells = append(cells[:4], cells[5:]...)
			case i == 0:
				cells[4] = c.header
			case name == "other":
				cells[4] = "10"
			}
			rows = append(rows, strings.Join(cells, ","))
		}
		file := filepath.Join(dir, name+".csv")
		require.NoError(t, os.WriteFile(file, []byte(strings.Join(rows, "\n")+"\n"), 0o600))
		code, out, errs := run(t, "map", file, "--field", "field.geojson", "--out", "out-"+name)
		require.Equal(t, 0, code, errs)
		out = strings.Join(strings.Fields(out), " ")
		assert.Equal(t, c.said, strings.Contains(out, "Look out: How many leaves is each count of? Each was taken as one leaf. Add a column named leaves."), "%s: %s", name, out)
		assert.Equal(t, name == "other", strings.Contains(out, `if "effort code" says how many were looked at, give --map "effort code=leaves"`), name)
	}
}
