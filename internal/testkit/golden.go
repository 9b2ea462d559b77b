package testkit

import (
	"flag"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

var update = flag.Bool("update", false, "rewrite the golden files with what the code says now")

// Golden returns the content of testdata/golden/name, after rewriting it with
// got where the tests run with -update.
func Golden(t testing.TB, name string, got []byte) []byte {
	t.Helper()
	path := Testdata(t, "golden", name)
	if *update {
		require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o755))
		require.NoError(t, os.WriteFile(path, got, 0o644))
	}
	want, err := os.ReadFile(path)
	require.NoError(t, err, "run with -update to make it")
	return want
}
