package testkit

import (
	"os"
	"os/exec"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// WantProgram skips the test where [Program] would, before what the program is to look at is
// made at length.
func WantProgram(t testing.TB, name string) {
	t.Helper()
	if _, err := exec.LookPath(name); err != nil {
		Missing(t, name)
	}
}

// Program runs a program that is not ours, with more environment, and returns
// what it prints. Where it is missing the test is skipped, in CI it fails; a
// program that ends with an error fails the test.
func Program(t testing.TB, env []string, name string, args ...string) string {
	t.Helper()
	WantProgram(t, name)
	cmd := exec.Command(name, args...)
	cmd.Env = append(os.Environ(), env...)
	out, err := cmd.CombinedOutput()
	require.NoError(t, err, "%s: %s", name, out)
	return string(out)
}

// python is the system's own, the one that GDAL's bindings are installed for.
const python = "/usr/bin/python3"

// Python runs Python with a module that is not part of it, and returns what it prints, as
// [Program] does. Where Python or the module is missing the test is skipped, in CI it fails.
func Python(t testing.TB, module string, args ...string) string {
	t.Helper()
	if err := exec.Command(python, "-c", "import "+module).Run(); err != nil {
		Missing(t, "Python's module "+module)
	}
	return Program(t, nil, python, args...)
}

// AssertGeoPackage holds that a file keeps the OGC's requirements as GDAL's validator knows
// them, without a warning.
func AssertGeoPackage(t testing.TB, path string) {
	t.Helper()
	const validator = "osgeo_utils.samples.validate_gpkg"
	assert.Empty(t, strings.TrimSpace(Python(t, validator, "-W", "ignore", "-m", validator, "--warning-as-error", path)), path)
}
