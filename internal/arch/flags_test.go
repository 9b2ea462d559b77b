package arch_test

import (
	"maps"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/testkit"
)

// One command hands the flags of testkit to the tests of every package, and a test program
// that does not know them fails: go test ./internal/... -run TestDecision -v -fields 480.
func TestEveryTestProgramKnowsTheFlags(t *testing.T) {
	sources, err := readSources(os.DirFS(testkit.Root(t)))
	require.NoError(t, err)
	knows := map[string]bool{}
	for _, src := range sources {
		if !src.isTest() || strings.HasPrefix(src.folder, "testdata/") || src.folder == "internal/testkit" {
			continue
		}
		knows[src.folder] = knows[src.folder] || slices.Contains(src.imports, module+"/internal/testkit")
	}
	require.Contains(t, knows, "interp")
	for _, folder := range slices.Sorted(maps.Keys(knows)) {
		assert.True(t, knows[folder], "%s: import testkit in a test, for its flags alone as _", folder)
	}
}
