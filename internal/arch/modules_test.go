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
	var lines []string
	for _, m := range linkedModules(t) {
		lines = append(lines, m.path+" "+licence(t, m.folder))
	}
	got := strings.Join(lines, "\n") + "\n"
	want := testkit.Golden(t, "modules.txt", []byte(got))
	assert.Equal(t, string(want), got)
}

// A linked module, with the folder that its sources lie in.
type linked struct{ path, folder string }

// linkedModules lists the modules that cmd/geocoris is linked from, sorted,
// without our own and without versions (go.mod has those). The platform is
// fixed, for some modules are linked on some platforms only.
func linkedModules(t *testing.T) (modules []linked) {
	t.Helper()
	list := exec.Command("go", "list", "-deps", "-f", "{{with .Module}}{{.Path}} {{.Dir}}{{end}}", "./cmd/geocoris")
	list.Dir = testkit.Root(t)
	list.Env = append(os.Environ(), "GOOS=linux", "GOARCH=amd64", "CGO_ENABLED=0", "GOFLAGS=")
	list.Stderr = os.Stderr
	out, err := list.Output()
	require.NoError(t, err)
	lines := strings.Split(strings.TrimSpace(string(out)), "\n")
	slices.Sort(lines)
	for _, line := range slices.Compact(lines) {
		if path, folder, _ := strings.Cut(line, " "); path != "" && path != module {
			modules = append(modules, linked{path, folder})
		}
	}
	return modules
}

// licences are recognised by what they alone say; the first that fits counts.
var licences = []struct{ name, says string }{
	{"Apache-2.0", "Apache License Version 2.0"},
	{"MPL-2.0", "Mozilla Public License"},
	{"GPL", "GNU GENERAL PUBLIC LICENSE"},
	{"BSD-3-Clause", "names of its contributors may be used to endorse"},
	{"BSD-3-Clause", "name of the copyright holder nor the names of its contributors"},
	{"BSD-3-Clause", "may be used to endorse or promote products"},
	{"BSD-2-Clause", "Redistributions in binary form must reproduce"},
	{"ISC", "Permission to use, copy, modify, and/or distribute this software for any purpose"},
	{"MIT", "Permission is hereby granted, free of charge"},
}

// licence names the licence of a module: a module without one that is known fails.
func licence(t *testing.T, folder string) string {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(folder, "LICEN[SC]E*"))
	require.NoError(t, err)
	require.NotEmpty(t, files, "no licence in %s", filepath.Base(folder))
	text, err := os.ReadFile(files[0])
	require.NoError(t, err)
	words := strings.Join(strings.Fields(string(text)), " ")
	for _, l := range licences {
		if strings.Contains(words, l.says) {
			return l.name
		}
	}
	require.Fail(t, "a licence that is not known", "%s: %.200s", filepath.Base(folder), words)
	return ""
}
