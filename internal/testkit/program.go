package testkit

import (
	"os"
	"os/exec"
	"testing"

	"github.com/stretchr/testify/require"
)

// Program runs a program that is not ours, with more environment, and returns
// what it prints. Where it is missing the test is skipped, in CI it fails; a
// program that ends with an error fails the test.
func Program(t testing.TB, env []string, name string, args ...string) string {
	t.Helper()
	if _, err := exec.LookPath(name); err != nil {
		Missing(t, name)
	}
	cmd := exec.Command(name, args...)
	cmd.Env = append(os.Environ(), env...)
	out, err := cmd.CombinedOutput()
	require.NoError(t, err, "%s: %s", name, out)
	return string(out)
}
