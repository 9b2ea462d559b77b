package cli

import (
	"fmt"
	"os"
	"path/filepath"
	"runtime/debug"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/testkit"
)

const keptFolder = ".geocoris-out-kept"

// inRegion makes a folder of its own the working one, with so many invented fields of six
// stops each, and returns how they are mapped.
func inRegion(t *testing.T, fields int) []string {
	t.Helper()
	t.Chdir(t.TempDir())
	const degree = 111_320.0
	var features []string
	counts := "stop,longitude,latitude,count,leaves,date,pest\n"
	for k := range fields {
		x, y := float64(k%10)*300, float64(k/10)*300
		at := func(dx, dy float64) string { return fmt.Sprintf("%.7f,%.7f", (x+dx)/degree, (y+dy)/degree) }
		features = append(features, fmt.Sprintf(`{"type":"Feature","properties":{"name":"F%d"},"geometry":{"type":"Polygon","coordinates":[[[%s],[%s],[%s],[%s],[%[2]s]]]}}`, k, at(0, 0), at(200, 0), at(200, 200), at(0, 200)))
		for i := range 6 {
			counts += fmt.Sprintf("%d-%d,%s,%d,10,2031-08-14,sorghum aphid\n", k, i, at(40+float64(i%3)*60, 60+float64(i/3)*80), (k*k*7+i*i*90)%1100)
		}
	}
	require.NoError(t, os.WriteFile("farm.geojson", []byte(`{"type":"FeatureCollection","features":[`+strings.Join(features, ",")+`]}`), 0o600))
	require.NoError(t, os.WriteFile("farm.csv", []byte(counts), 0o600))
	return []string{"map", "farm.csv", "--field", "farm.geojson", "--cell", "20", "--out", "out"}
}

// At every operation on the disk a map of many fields is killed, or the disk is full once;
// the next run goes on from there, and its files are those of a run that was not stopped. A
// few operations are tried; GEOCORIS_BREAK=all asks for all of them.
func TestAMapGoesOnWhereItWasStopped(t *testing.T) {
	args := append(inRegion(t, keptFrom), "--jobs", "1")
	whole := &endingDisk{}
	code, _, errs := ran(t, Streams{disk: whole}, args...)
	require.Zero(t, code, errs)
	assert.NotContains(t, errs, "note:")
	require.NoDirExists(t, keptFolder, "nothing stays of a run that came to its end")
	want := within(t, "out")
	step, wentOn := max(1, whole.done/testkit.Few(8, 2)), 0
	if os.Getenv("GEOCORIS_BREAK") == "all" {
		step = 1
	}
	for at := 1; at <= whole.done; at += step {
		for _, full := range []bool{false, true} {
			require.NoError(t, os.RemoveAll("out"))
			require.NoError(t, os.RemoveAll(keptFolder))
			code, _, errs := ran(t, Streams{disk: &endingDisk{at: at, full: full}}, args...)
			if code == 0 {
				assert.Equal(t, want, within(t, "out"), "full at operation %d", at)
			}
			kept := strings.Contains(errs, "of 50 fields are kept: the same command with --resume goes on from there")
			code, _, errs = ran(t, Streams{}, append(args, "--resume", "--force")...)
			require.Zero(t, code, errs)
			assert.Equal(t, want, within(t, "out"), "stopped at operation %d", at)
			assert.NoDirExists(t, keptFolder)
			if kept {
				assert.Contains(t, errs, "of 50 fields were done when a run was stopped; this one goes on from there")
				wentOn++
			}
		}
	}
	t.Logf("%d operations, went on %d times", whole.done, wentOn)
	assert.Greater(t, wentOn, testkit.Few(4, 0))
}

// stopped maps until after so many operations on the disk.
func stopped(t *testing.T, args []string, at int) {
	t.Helper()
	require.NoError(t, os.RemoveAll("out"))
	require.NoError(t, os.RemoveAll(keptFolder))
	code, _, errs := ran(t, Streams{disk: &endingDisk{at: at}}, args...)
	require.NotZero(t, code)
	require.Contains(t, errs, "fields are kept")
}

// What was kept is never mixed with other files, settings or parts, nor taken unasked, and
// half a piece is no piece.
func TestWhatWasKeptIsOfTheSameMap(t *testing.T) {
	args := append(inRegion(t, keptFrom), "--jobs", "1")
	code, _, errs := ran(t, Streams{}, args...)
	require.Zero(t, code, errs)
	want := within(t, "out")

	stopped(t, args, 30)
	code, _, errs = ran(t, Streams{}, args...)
	assert.Equal(t, exitFailed, code)
	assert.Contains(t, errs, "out: a run of this map was stopped when ")
	assert.Contains(t, errs, "hint: --resume goes on from there, --force begins anew")
	code, _, errs = ran(t, Streams{}, append(args, "--resume", "--treat-at", "41")...)
	assert.Equal(t, exitFailed, code)
	assert.Contains(t, errs, keptFolder+" holds what a run that was stopped had worked out, of another setting treat-at")
	assert.Contains(t, errs, "hint: give the files and settings that it was begun with, or leave out --resume to begin anew")
	code, _, errs = ran(t, Streams{}, append(args, "--resume", "--by-grower")...)
	assert.Equal(t, exitUsage, code)
	assert.Contains(t, errs, "--resume and --by-grower do not go together")
	code, _, errs = ran(t, Streams{}, append(args, "--resume", "--quiet")...)
	require.Zero(t, code, errs)
	assert.Equal(t, want, within(t, "out"), "refusing took nothing away")

	stopped(t, args, 30)
	code, _, errs = ran(t, Streams{}, append(args, "--force")...)
	require.Zero(t, code, errs)
	assert.Contains(t, errs, "this one begins anew")
	assert.Equal(t, want, within(t, "out"))

	stopped(t, args, 30)
	text, err := os.ReadFile("farm.csv")
	require.NoError(t, err)
	require.NoError(t, os.WriteFile("farm.csv", append(text, '\n'), 0o600))
	code, _, errs = ran(t, Streams{}, args...)
	assert.Equal(t, exitFailed, code)
	assert.Contains(t, errs, "out: a run of this map was stopped, with another farm.csv\nhint: with the files and settings that it was begun with, --resume goes on from there; --force begins anew\n")
	assert.DirExists(t, keptFolder, "refusing took nothing away")
	code, _, errs = ran(t, Streams{}, append(args, "--force")...)
	require.Zero(t, code, errs)
	assert.Contains(t, errs, "with another farm.csv; this one begins anew")
	assert.NoDirExists(t, keptFolder)
	require.NoError(t, os.WriteFile("farm.csv", text, 0o600))

	hurts := []func(b []byte) []byte{
		func(b []byte) []byte { b[len(b)/2] ^= 1; return b },
		func(b []byte) []byte { return b[:len(b)-1] },
		func([]byte) []byte { return nil },
		func(b []byte) []byte { return append(b, "half a piece"...) },
	}
	for _, hurt := range hurts[:testkit.Few(len(hurts), 1)] {
		stopped(t, args, 30)
		kept := filepath.Join(keptFolder, "1")
		text, err := os.ReadFile(kept)
		require.NoError(t, err)
		require.NoError(t, os.WriteFile(kept, hurt(text), 0o600))
		code, _, errs = ran(t, Streams{}, append(args, "--resume", "--quiet")...)
		require.Zero(t, code, errs)
		assert.Equal(t, want, within(t, "out"))
	}
}

// Fields that are few are soon worked out again: nothing is kept of them unless it is asked
// for. A run that says nothing of what was left would leave it for ever.
func TestWhatWasKeptIsOffered(t *testing.T) {
	args := append(inRegion(t, 3), "--jobs", "1")
	code, _, errs := ran(t, Streams{disk: &endingDisk{at: 4}}, args...)
	require.NotZero(t, code, errs)
	assert.NoDirExists(t, keptFolder)
	args = append(args, "--resume")
	code, _, errs = ran(t, Streams{disk: &endingDisk{at: 7}}, args...)
	require.NotZero(t, code, errs)
	require.Contains(t, errs, "fields are kept")
	code, _, errs = ran(t, Streams{}, append(args, "--only", "F1")...)
	assert.Equal(t, exitFailed, code)
	assert.Contains(t, errs, "of another setting only")
	code, _, errs = ran(t, Streams{}, "demo", "out")
	require.Zero(t, code, errs)
	assert.Contains(t, errs, keptFolder+" holds what a run that was stopped had worked out: the same command goes on from it with --resume; or delete it")
	code, _, errs = ran(t, Streams{}, append(args, "--force")...)
	require.Zero(t, code, errs)
	assert.NoDirExists(t, keptFolder)
	code, _, errs = ran(t, Streams{}, append(args, "--force", "--write", "map.svg")...)
	require.Zero(t, code, errs)
	assert.Contains(t, errs, "pictures need more of a field than is kept: all fields were worked out\n")
	code, _, errs = ran(t, Streams{disk: &endingDisk{at: 7}}, append(args, "--force")...)
	require.NotZero(t, code, errs)
	require.DirExists(t, keptFolder)
	code, _, errs = ran(t, Streams{}, append(args, "--force", "--write", "map.svg")...)
	require.Zero(t, code, errs)
	assert.Contains(t, errs, "all fields were worked out, and what was kept is dropped")
	assert.NoDirExists(t, keptFolder)
}

// Only a commit to which nothing was done tells what a program was built of.
func TestOfACommit(t *testing.T) {
	revision, clean := debug.BuildSetting{Key: "vcs.revision", Value: "af8c"}, debug.BuildSetting{Key: "vcs.modified", Value: "false"}
	changed := debug.BuildSetting{Key: "vcs.modified", Value: "true"}
	require.True(t, ofCommit(&debug.BuildInfo{Settings: []debug.BuildSetting{revision, clean}}))
	for _, settings := range [][]debug.BuildSetting{nil, {revision}, {clean}, {revision, changed}} {
		require.False(t, ofCommit(&debug.BuildInfo{Settings: settings}), settings)
	}
}
