package arch_test

import (
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/testkit"
)

// What the program links is what its users must trust: a new module fails here
// until the list is written anew with -update.
func TestModulesLinkedIntoTheProgram(t *testing.T) {
	main := filepath.Join(testkit.Root(t), "cmd", "geocoris", "main.go")
	if _, err := os.Stat(main); err != nil {
		testkit.Missing(t, "cmd/geocoris/main.go")
	}
	got := strings.Join(linkedModules(t), "\n") + "\n"
	want := testkit.Golden(t, "modules.txt", []byte(got))
	assert.Equal(t, string(want), got)
}

// linkedModules lists the modules that cmd/geocoris is linked from, sorted,
// without our own and without versions (go.mod has those). The platform is
// fixed, for some modules are linked on some platforms only.
func linkedModules(t *testing.T) []string {
	t.Helper()
	list := exec.Command("go", "list", "-deps", "-f", "{{with .Module}}{{.Path}}{{end}}", "./cmd/geocoris")
	list.Dir = testkit.Root(t)
	list.Env = append(os.Environ(), "GOOS=linux", "GOARCH=amd64", "CGO_ENABLED=0", "GOFLAGS=")
	list.Stderr = os.Stderr
	out, err := list.Output()
	require.NoError(t, err)
	paths := strings.Fields(string(out))
	slices.Sort(paths)
	paths = slices.Compact(paths)
	return slices.DeleteFunc(paths, func(path string) bool { return path == module })
}
