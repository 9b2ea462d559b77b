package main

import (
	"archive/zip"
	"bytes"
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/testkit"
)

// program is built once for all tests.
var program = sync.OnceValues(func() ([]byte, error) {
	folder, err := os.MkdirTemp("", "release")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(folder)
	path := filepath.Join(folder, "geocoris")
	// As releases are built, without symbols: there is less to pack.
	if said, err := exec.Command("go", "build", "-ldflags", "-s -w", "-o", path, "../../cmd/geocoris").CombinedOutput(); err != nil {
		return said, err
	}
	return os.ReadFile(path)
})

func built(t *testing.T) []byte {
	t.Helper()
	b, err := program()
	require.NoError(t, err)
	return b
}

// systems are those of the releases: elsewhere than in CI one alone, as packing takes seconds.
func systems() []string { return []string{"linux-amd64", "windows-amd64"}[:testkit.Few(2, 1)] }

// released makes a release of a program, as if it were built for each of the systems.
func released(t *testing.T, program []byte, out string) {
	t.Helper()
	from := t.TempDir()
	for _, system := range systems() {
		name := system + "/geocoris" + map[string]string{"windows-amd64": ".exe"}[system]
		require.NoError(t, os.MkdirAll(filepath.Join(from, "bin", filepath.Dir(name)), 0o755))
		require.NoError(t, os.WriteFile(filepath.Join(from, "bin", name), program, 0o600))
	}
	require.NoError(t, os.MkdirAll(filepath.Join(from, "site/app"), 0o755))
	require.NoError(t, os.WriteFile(filepath.Join(from, "site/app/main.js"), []byte("1"), 0o644))
	require.NoError(t, os.WriteFile(filepath.Join(from, "site/index.html"), []byte("<p>"), 0o644))
	t.Chdir("../..")
	require.NoError(t, release{"v1.2.3", filepath.Join(from, "bin"), filepath.Join(from, "site"), out}.make(t.Context()))
}

// The same program makes the same files again, and they hold what they should.
func TestReleaseIsTheSameAgain(t *testing.T) {
	first, second, program := t.TempDir(), t.TempDir(), built(t)
	released(t, program, first)
	archivesHold(t, first)
	t.Chdir("internal/release")
	released(t, program, second)
	files, err := os.ReadDir(first)
	require.NoError(t, err)
	var names []string
	for _, f := range files {
		names = append(names, f.Name())
		a, err := os.ReadFile(filepath.Join(first, f.Name()))
		require.NoError(t, err)
		b, err := os.ReadFile(filepath.Join(second, f.Name()))
		require.NoError(t, err)
		assert.True(t, bytes.Equal(a, b), f.Name())
	}
	want := []string{"SHA256SUMS", "geocoris-v1.2.3-site.zip", "geocoris.cdx.json"}
	for _, system := range systems() {
		want = append(want, "geocoris-v1.2.3-"+system+".zip")
	}
	assert.ElementsMatch(t, want, names)
	if _, err := exec.LookPath("sha256sum"); err == nil {
		check := exec.Command("sha256sum", "--check", "--strict", "SHA256SUMS")
		check.Dir = first
		said, err := check.CombinedOutput()
		require.NoError(t, err, string(said))
		assert.Equal(t, 2+len(systems()), strings.Count(string(said), ": OK"))
	}
}

// archivesHold: the archives of a release hold the program and all licences.
func archivesHold(t *testing.T, out string) {
	t.Helper()
	z, err := zip.OpenReader(filepath.Join(out, "geocoris-v1.2.3-linux-amd64.zip"))
	require.NoError(t, err)
	defer z.Close()
	modes := map[string]string{}
	for _, f := range z.File {
		modes[f.Name] = f.Mode().String()
		assert.Equal(t, "1980-01-01 00:00:00", f.Modified.UTC().Format("2006-01-02 15:04:05"), f.Name)
	}
	assert.Equal(t, map[string]string{
		"geocoris-linux-amd64/geocoris": "-rwxr-xr-x", "geocoris-linux-amd64/README.md": "-rw-r--r--", "geocoris-linux-amd64/LICENSE": "-rw-r--r--", "geocoris-linux-amd64/LICENCES-OF-PARTS.txt": "-rw-r--r--",
	}, modes)

	// The parts are those that the build tells of, each with a licence.
	bill, err := os.ReadFile(filepath.Join(out, "geocoris.cdx.json"))
	require.NoError(t, err)
	var made struct {
		BomFormat, SpecVersion string
		Metadata               struct{ Component struct{ Version string } }
		Components             []struct {
			Name, Version, PURL string
			Hashes              []struct{ Content string }
		}
		Dependencies []struct{ DependsOn []string }
	}
	require.NoError(t, json.Unmarshal(bill, &made))
	assert.Equal(t, []string{"CycloneDX", "1.5", "v1.2.3"}, []string{made.BomFormat, made.SpecVersion, made.Metadata.Component.Version})
	licences := contentOf(t, &z.Reader, "geocoris-linux-amd64/LICENCES-OF-PARTS.txt")
	named := map[string]bool{}
	for _, c := range made.Components {
		named[c.Name] = true
		assert.Contains(t, licences, "\n"+c.Name+" "+c.Version+": ")
		assert.Equal(t, "pkg:golang/"+c.Name+"@"+c.Version, c.PURL)
		if c.Name != "std" {
			require.Len(t, c.Hashes, 1, c.Name)
			assert.Len(t, c.Hashes[0].Content, 64)
		}
	}
	assert.True(t, named["std"] && named["github.com/paulmach/orb"] && !named["github.com/stretchr/testify"], "%v", named)
	assert.Len(t, made.Dependencies[0].DependsOn, len(made.Components))
}

func contentOf(t *testing.T, z *zip.Reader, name string) string {
	t.Helper()
	f, err := z.Open(name)
	require.NoError(t, err)
	defer f.Close()
	var b bytes.Buffer
	_, err = b.ReadFrom(f)
	require.NoError(t, err)
	return b.String()
}

func TestAPartWithoutALicenceIsRefused(t *testing.T) {
	err := addLicences(t.Context(), []*part{{path: "example.org/nowhere", version: "v1.0.0"}})
	assert.Error(t, err)
	_, err = partsOf([]string{"main.go"})
	assert.ErrorContains(t, err, "main.go: ")
}
