package cli

import (
	"bytes"
	"context"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"syscall"
	"testing"

	"github.com/spf13/cobra"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/files/folder"
	"github.com/geocoris/geocoris/internal/testkit"
)

// outCalls is one good call of every command that puts files into a folder; OUT
// stands for the folder. A command that is not here fails the tests.
var outCalls = map[string][]string{
	"geocoris demo":            {"demo", "OUT"},
	"geocoris template":        {"template", "OUT"},
	"geocoris plan":            {"plan", "--field", "field.geojson", "--only", "Pivot", "--stops", "5", "--out", "OUT"},
	"geocoris tally":           {"tally", "--low", "0.1", "--high", "0.3", "--card", "--out", "OUT"},
	"geocoris tally --curves":  {"tally", "--low", "0.1", "--high", "0.3", "--curves", "--runs", "10", "--out", "OUT"},
	"geocoris calibrate":       {"calibrate", "pairs.csv", "--out", "OUT"},
	"geocoris calibrate drill": {"calibrate", "drill", "--out", "OUT"},
	"geocoris key":             {"key", "--out", "OUT"},
	"geocoris rules":           {"rules", "--out", "OUT"},
	"geocoris check":           {"check", "week2.csv", "--out", "OUT"},
	"geocoris map":             {"map", "week2.csv", "--field", "field.geojson", "--out", "OUT"},
	"geocoris report":          {"report", "OUT"},
	"geocoris compare":         {"compare", "week1.csv", "week2.csv", "--field", "field.geojson", "--out", "OUT"},
	"geocoris season export":   {"season", "export", "s.gpkg", "--out", "OUT"},
	"geocoris handoff":         {"handoff", "mapped", "--swath", "24m", "--out", "OUT"},
	"geocoris site":            {"site", "--out", "OUT"},
	"geocoris record":          {"record", "OUT", "--date", "2026-07-17", "--field", "Pivot", "--area", "12ha", "--product", "product A=1 kg", "--who", "the applicator"},
}

// writing are the commands that put files into a folder, by their flags and usage.
func writing(cmd *cobra.Command) (paths []string) {
	out := cmd.Flags().Lookup("out")
	if out != nil && !out.Hidden || regexp.MustCompile(`^\w+ FOLDER\b`).MatchString(cmd.Use) {
		paths = append(paths, cmd.CommandPath())
	}
	for _, sub := range cmd.Commands() {
		paths = append(paths, writing(sub)...)
	}
	return paths
}

func ran(t *testing.T, s Streams, args ...string) (code int, out, errs string) {
	t.Helper()
	var o, e bytes.Buffer
	if s.Out == nil {
		s.Out = &o
	}
	s.Err = &e
	code = Run(t.Context(), args, s)
	return code, o.String(), e.String()
}

// inWork makes a folder of its own the working one, with something for every command.
func inWork(t *testing.T) {
	t.Helper()
	t.Chdir(t.TempDir())
	pairs := "observer,estimated,counted\n" + strings.Repeat("A,10,12\nA,20,26\n", 6)
	require.NoError(t, os.WriteFile("pairs.csv", []byte(pairs), 0o644))
	for _, args := range [][]string{
		{"demo", "."},
		{"season", "add", "s.gpkg", "week1.csv", "--field", "field.geojson"},
		{"map", "week2.csv", "--field", "field.geojson", "--out", "mapped", "--quiet"},
	} {
		code, _, errs := ran(t, Remembering(Streams{}), args...)
		require.Zero(t, code, errs)
	}
}

func into(args []string, out string) []string {
	args = append([]string(nil), args...)
	for i, a := range args {
		if a == "OUT" {
			args[i] = out
		}
	}
	return args
}

// snapshot is every file below the working folder.
func snapshot(t *testing.T) map[string]string {
	t.Helper()
	all := map[string]string{}
	require.NoError(t, filepath.WalkDir(".", func(name string, e os.DirEntry, err error) error {
		if err != nil || e.IsDir() {
			all[name] = "/"
			return err
		}
		text, err := os.ReadFile(name)
		all[name] = string(text)
		return err
	}))
	return all
}

// A file in the place of a folder survives every command, under every name it has; and
// so does every input that is named as the output.
func TestNoCommandTakesAFileForItsFolder(t *testing.T) {
	inWork(t)
	for _, path := range writing(newRoot(Streams{})) {
		assert.Contains(t, outCalls, path, "a command that writes into a folder wants a call here")
	}
	require.NoError(t, os.WriteFile("theirs", []byte("a week of work"), 0o644))
	outs := []string{"theirs/in it", "s.gpkg", "theirs", "week1.csv", "week2.csv", "field.geojson", "pairs.csv"}
	if os.Symlink("theirs", "link") == nil && os.Link("theirs", "hard") == nil && os.Symlink("nowhere", "dangling") == nil {
		outs = append([]string{"link"}, append(outs, "hard", "dangling")...)
	}
	before := snapshot0(t)
	for name, args := range outCalls {
		for _, out := range outs[:testkit.Few(len(outs), 3)] {
			for _, force := range []bool{false, true} {
				call := into(args, out)
				if force {
					if cmd, _, err := newRoot(Streams{}).Find(call); err != nil || cmd.Flags().Lookup("force") == nil {
						continue
					}
					call = append(call, "--force")
				}
				code, _, errs := ran(t, Remembering(Streams{}), call...)
				assert.NotZero(t, code, "%s into %s", name, out)
				assert.Contains(t, errs, strings.Split(out, "/")[0], "%s says which", name)
				assert.Contains(t, errs, "hint: ", "%s says what to do", name)
			}
		}
	}
	assert.Equal(t, before, snapshot0(t))
}

// snapshot0 is a snapshot where links may lead nowhere.
func snapshot0(t *testing.T) map[string]string {
	t.Helper()
	all := map[string]string{}
	entries, err := os.ReadDir(".")
	require.NoError(t, err)
	for _, e := range entries {
		text, err := os.ReadFile(e.Name())
		if err != nil {
			text = []byte(e.Type().String())
		}
		all[e.Name()] = string(text)
	}
	return all
}

// An input that lies in the folder under the name of a result stays, with --force too.
func TestNoCommandOverwritesItsInputs(t *testing.T) {
	inWork(t)
	for name, of := range map[string]string{"zones.geojson": "field.geojson", "stops.geojson": "field.geojson", "pairs.svg": "pairs.csv",
		"clean.csv": "week2.csv", "change.geojson": "field.geojson", "fields.geojson": "s.gpkg", "ground.geojson": "mapped/zones.geojson"} {
		text, err := os.ReadFile(of)
		require.NoError(t, err)
		require.NoError(t, os.WriteFile(name, text, 0o644))
	}
	before := snapshot(t)
	for _, args := range [][]string{
		{"map", "week2.csv", "--field", "zones.geojson", "--out", "."},
		{"plan", "--field", "stops.geojson", "--only", "Pivot", "--stops", "5", "--out", "."},
		{"calibrate", "pairs.svg", "--out", "."},
		{"check", "clean.csv", "--out", "."},
		{"compare", "week1.csv", "week2.csv", "--field", "change.geojson", "--out", "."},
		{"season", "export", "fields.geojson", "--out", "."},
		{"handoff", "ground.geojson", "--swath", "24m", "--out", "."},
		{"plan", "--field", "field.geojson", "--only", "Pivot", "--add", "3", "--after", "mapped", "--out", "mapped"}, // stops.geojson of the map
	} {
		code, _, errs := ran(t, Remembering(Streams{}), append(args, "--force")...)
		assert.NotZero(t, code, args)
		assert.Regexp(t, "overwritten by its own result|lies in the folder for the results", errs, args)
		assert.Contains(t, errs, "hint: choose another folder", args)
	}
	assert.Equal(t, before, snapshot(t))
}

// What a run that was broken off left in its folder is not someone else's.
func TestAFolderWithLeftoversIsStillOurs(t *testing.T) {
	path := t.TempDir()
	write := func(name string) { require.NoError(t, os.WriteFile(filepath.Join(path, name), nil, 0o600)) }
	check := func(force bool) error { return checkFolder(path, nil, []string{"zones.geojson"}, force) }
	write("zones.geojson")
	write(".geocoris-lock")
	require.NoError(t, check(false))
	write("notes.txt")
	assert.ErrorContains(t, check(false), "holds other files, such as notes.txt")
	assert.NoError(t, check(true))
}

// fullDisk has no room for one of the files.
type fullDisk struct {
	folder.Machine
	left *int
}

func (d fullDisk) Create(path string, mode os.FileMode) (folder.File, error) {
	if *d.left--; *d.left < 0 {
		return nil, &os.PathError{Op: "open", Path: path, Err: syscall.ENOSPC}
	}
	f, err := d.Machine.Create(path, mode)
	return fullFile{f, *d.left == 0}, err
}

type fullFile struct {
	folder.File
	full bool
}

func (f fullFile) Write(content []byte) (int, error) {
	if !f.full {
		return f.File.Write(content)
	}
	n, _ := f.File.Write(content[:len(content)/2])
	return n, syscall.ENOSPC
}

// Wherever the disk is full, every command says so, and the folder is as it was.
func TestEveryCommandOnAFullDisk(t *testing.T) {
	inWork(t)
	before := snapshot(t)
	for name, args := range outCalls {
		for _, room := range []int{1, 0}[:testkit.Few(2, 1)] {
			out := "new"
			if name == "geocoris report" || name == "geocoris record" {
				out = "mapped"
			}
			code, _, errs := ran(t, Remembering(Streams{disk: fullDisk{left: &room}}), into(args, out)...)
			assert.Equal(t, exitFailed, code, "%s: %s", name, errs)
			assert.Contains(t, errs, "the disk is full", name)
		}
	}
	assert.Equal(t, before, snapshot(t))
}

// noRoom is a stream on a full disk.
type noRoom struct{}

func (noRoom) Write([]byte) (int, error) { return 0, syscall.ENOSPC }

func TestWhatIsPrintedToAFullDiskIsNoSuccess(t *testing.T) {
	inWork(t)
	calls := [][]string{{"--help"}, {}, {"map", "--help"}, {"--version"}, {"rules"}, {"key", "--help"}, {"season", "list", "s.gpkg"}}
	for name, args := range outCalls {
		out := "new " + name
		if name == "geocoris report" || name == "geocoris record" {
			out = "mapped"
		}
		calls = append(calls, into(args, out))
	}
	for _, args := range calls {
		code, _, errs := ran(t, Remembering(Streams{Out: noRoom{}}), args...)
		assert.Equal(t, exitFailed, code, args)
		assert.Contains(t, errs, "the disk is full", args)
	}
}

func TestASignalBeforeTheFilesCount(t *testing.T) {
	inWork(t)
	before := snapshot(t)
	ctx, stop := context.WithCancel(t.Context())
	stop()
	for name, args := range outCalls {
		out := "new"
		if name == "geocoris report" || name == "geocoris record" {
			out = "mapped"
		}
		var errs bytes.Buffer
		code := Run(ctx, into(args, out), Streams{Out: io.Discard, Err: &errs})
		assert.Equal(t, exitFailed, code, name)
		assert.Contains(t, errs.String(), "stopped; nothing was written", name)
	}
	assert.Equal(t, before, snapshot(t))
}

// Two commands that keep a record cannot share a folder: one would lose its own.
func TestARunKeepsItsRecord(t *testing.T) {
	inWork(t)
	code, _, errs := ran(t, Remembering(Streams{}), into(outCalls["geocoris compare"], "compared")...)
	require.Zero(t, code, errs)
	before := snapshot(t)
	for _, c := range []struct{ command, out, want string }{
		{"geocoris compare", "mapped", "mapped holds what map wrote"},
		{"geocoris map", "compared", "compared holds what compare wrote"},
	} {
		for _, force := range [][]string{nil, {"--force"}} {
			code, _, errs := ran(t, Remembering(Streams{}), append(into(outCalls[c.command], c.out), force...)...)
			assert.Equal(t, exitFailed, code)
			assert.Regexp(t, "holds what|holds other files", errs)
			if force != nil {
				assert.Contains(t, errs, c.want)
			}
		}
	}
	assert.Equal(t, before, snapshot(t))
}

func TestTheRecordOfARunIsLast(t *testing.T) {
	var names []string
	for _, f := range outputs([]outFile{{name: "run.json"}, {name: "a"}, {name: "b"}}) {
		names = append(names, f.Name)
	}
	assert.Equal(t, []string{"a", "b", "run.json"}, names)
}
