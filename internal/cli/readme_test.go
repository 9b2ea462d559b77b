package cli_test

import (
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/testkit"
)

// The README quotes a run up to a line of dots; it must be a run of this program.
func TestREADMEQuotesARealRun(t *testing.T) {
	raw, err := os.ReadFile(filepath.Join(testkit.Root(t), "README.md"))
	require.NoError(t, err)
	_, quoted, found := strings.Cut(string(raw), "--out out\n\n")
	require.True(t, found)
	quoted, _, found = strings.Cut(quoted, "    …\n")
	require.True(t, found)
	var lines []string
	for _, line := range strings.Split(quoted, "\n") {
		lines = append(lines, strings.TrimPrefix(line, "    "))
	}
	inFolder(t)
	code, out, errs := run(t, week("2")...)
	require.Zero(t, code, errs)
	assert.True(t, strings.HasPrefix(out, strings.TrimSuffix(strings.Join(lines, "\n"), "\n")), "the README quotes:\n%s", quoted)
}

// The commands of the README's table that walk and count run on the demo as they are
// written.
func TestREADMECommandsBeforeTheMapRun(t *testing.T) {
	raw, err := os.ReadFile(filepath.Join(testkit.Root(t), "README.md"))
	require.NoError(t, err)
	inFolder(t)
	commands := 0
	for _, m := range regexp.MustCompile("`geocoris ((?:plan|tally|check|map|handoff|compare) [^`…]*)`").FindAllStringSubmatch(string(raw), -1) {
		args := strings.Fields(m[1])
		if !slices.Contains(args, "--field") {
			continue
		}
		commands++
		code, _, errs := run(t, args...)
		assert.Zero(t, code, "%s: %s", m[1], errs)
	}
	assert.GreaterOrEqual(t, commands, 4)
}
