//go:build !js

package testkit

import (
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

// A Driver is a browser of any make, as far as all of them can be driven alike. Whatever
// goes wrong between the two fails the test.
type Driver interface {
	// Go shows an address, and waits until all of it stands.
	Go(address string)
	// Evaluate is the value of an expression in the page, of a promise what it comes to, as
	// JSON has it. An exception fails the test.
	Evaluate(expression string) any
	// Kill ends the browser as a crash does.
	Kill()
}

// Go shows an address in a new tab as large as a phone.
func (b *Browser) Go(address string) { b.Open(address, 390, 844) }

// endAll ends a process that a test started, with what it started itself.
func endAll(cmd *exec.Cmd) {
	for _, pid := range processes(cmd.Process.Pid) {
		if p, err := os.FindProcess(pid); err == nil {
			_ = p.Kill()
		}
	}
	_ = cmd.Wait()
}

// found is the path of a program of one of such names or places, in PATH or by a pattern.
// Where there is none the test is skipped, in CI it fails.
func found(t testing.TB, what string, names ...string) string {
	t.Helper()
	for _, name := range names {
		if path, err := exec.LookPath(name); err == nil {
			return path
		}
		if paths, err := filepath.Glob(name); err == nil && len(paths) > 0 {
			return paths[0]
		}
	}
	Missing(t, what)
	return ""
}

// mustStart starts a program, which ends with the test.
func mustStart(t testing.TB, cmd *exec.Cmd) {
	t.Helper()
	require.NoError(t, cmd.Start())
	t.Cleanup(func() { endAll(cmd) })
}
