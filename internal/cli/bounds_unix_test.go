//go:build unix

package cli_test

import (
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/testkit"
)

// mostTaken is what a refusal may take of memory, in bytes: a file is read to 64 MiB, and
// the room for it doubles on the way.
const mostTaken = 600 << 20

// A file without end is refused at the limit of what it is given for, by every flag that
// names a file.
func TestFilesWithoutEndAreRefused(t *testing.T) {
	inFolder(t)
	const endless = "/dev/zero"
	// Files of counts and of features are read alike by all commands: elsewhere than in CI one does.
	alike := []string{"plan", "keep-off", "zones", "treated", "visit", "season"}
	for name, args := range map[string][]string{
		"settings": week("1", "--settings", endless), "rules": week("1", "--rules", endless, "--rule", "x"),
		"schema": week("1", "--schema", endless), "observers": week("1", "--observers", endless),
		"field":  {"map", "week1.csv", "--field", endless, "--out", "out"},
		"counts": {"map", endless, "--field", "field.geojson", "--out", "out"},
		"plan":   {"plan", "--field", endless, "--stops", "10", "--out", "out"}, "rules of rules": {"rules", "--rules", endless},
		"keep-off": {"plan", "--field", "field.geojson", "--only", "Pivot", "--stops", "10", "--keep-off", endless, "--out", "out"},
		"zones":    {"handoff", endless, "--swath", "24m", "--out", "out"},
		"treated":  {"compare", "week1.csv", "week2.csv", "--field", "field.geojson", "--treated", endless, "--out", "out"},
		"visit":    {"compare", endless, "week2.csv", "--field", "field.geojson", "--out", "out"},
		"season":   {"season", "add", "s.gpkg", endless, "--field", "field.geojson"},
		"tally":    {"tally", endless, "--plan", "sorghum-tally-50"},
		"pairs":    {"calibrate", endless, "--out", "out"},
	} {
		if !testkit.Strict() && slices.Contains(alike, name) {
			continue
		}
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		code, _, errs := run(t, args...)
		runtime.ReadMemStats(&after)
		assert.NotZero(t, code, name)
		assert.Regexp(t, `more than|too large|too long|longer than`, errs, name)
		assert.Less(t, (after.TotalAlloc-before.TotalAlloc)>>20, uint64(mostTaken>>20), name)
		assert.NoDirExists(t, "out", name)
	}
}

// piped makes a named pipe that gives a file's bytes once.
func piped(t *testing.T, file string) string {
	t.Helper()
	pipe := filepath.Join(t.TempDir(), filepath.Base(file))
	require.NoError(t, syscall.Mkfifo(pipe, 0o600))
	text, err := os.ReadFile(file)
	require.NoError(t, err)
	go func() { // waits for who reads
		if w, err := os.OpenFile(pipe, os.O_WRONLY, 0); err == nil {
			_, _ = w.Write(text)
			_ = w.Close()
		}
	}()
	return pipe
}

// A named pipe gives its bytes once, and who reads it twice waits for ever.
func TestNamedPipesAreReadOnce(t *testing.T) {
	inFolder(t)
	require.NoError(t, os.WriteFile("map.toml", []byte("treat-at = 50\n"), 0o644))
	for name, args := range map[string]func() []string{
		"map": func() []string {
			return []string{"map", piped(t, "week1.csv"), "--field", piped(t, "field.geojson"), "--settings", piped(t, "map.toml"), "--out", "out"}
		},
		"compare": func() []string {
			return []string{"compare", piped(t, "week1.csv"), piped(t, "week2.csv"), "--field", piped(t, "field.geojson"), "--out", "change"}
		},
		"season": func() []string {
			return []string{"season", "add", "s.gpkg", piped(t, "week1.csv"), "--field", piped(t, "field.geojson")}
		},
		"tally": func() []string { return []string{"tally", piped(t, "week1.csv"), "--plan", "sorghum-tally-50"} },
		"plan": func() []string {
			return []string{"plan", "--field", piped(t, "field.geojson"), "--only", "Pivot", "--stops", "10", "--out", "walk"}
		},
		"check": func() []string { return []string{"check", piped(t, "week1.csv"), "--field", piped(t, "field.geojson")} },
	} {
		done := make(chan string, 1)
		go func() {
			code, _, errs := run(t, args()...)
			if code == 1 || code == 2 {
				done <- errs
			}
			close(done)
		}()
		select {
		case errs := <-done:
			assert.Empty(t, errs, name)
		case <-time.After(time.Minute):
			t.Fatalf("%s: waits for a pipe that it has read", name)
		}
	}
}

// No number of stops is so large that its table takes the machine.
func TestWalksHaveABound(t *testing.T) {
	inFolder(t)
	for _, flag := range []string{"--least", "--most", "--planned"} {
		code, _, errs := run(t, "tally", "week2.csv", "--plan", "sorghum-tally-50", flag, "1000000000")
		assert.Equal(t, 2, code)
		assert.Contains(t, errs, flag+" 1000000000: want 10000 stops at the most")
		code, _, errs = run(t, "tally", "week2.csv", "--plan", "sorghum-tally-50", "--planned", "10000", flag, "10000")
		assert.NotContains(t, errs, "at the most", flag)
		assert.NotEqual(t, 2, code, strings.TrimSpace(errs))
	}
}
