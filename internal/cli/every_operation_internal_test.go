package cli

import (
	"errors"
	"io/fs"
	"os"
	"sync"
	"syscall"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/files/folder"
	"github.com/geocoris/geocoris/internal/testkit"
)

// endingDisk is a disk up to one of the operations on it: there it is full, once, or the
// program ends, and nothing after it has any effect.
type endingDisk struct {
	folder.Machine
	mu   sync.Mutex // files are synced side by side
	at   int        // counted from 1; 0 for never
	full bool
	done int
}

var errEnded = errors.New("the program has ended")

func (d *endingDisk) step() error {
	d.mu.Lock()
	defer d.mu.Unlock()
	d.done++
	switch {
	case d.at == 0 || d.done < d.at:
		return nil
	case !d.full:
		return errEnded
	case d.done == d.at:
		return syscall.ENOSPC
	}
	return nil
}

// after does an operation unless the disk has ended.
func (d *endingDisk) after(do func() error) error {
	if err := d.step(); err != nil {
		return err
	}
	return do()
}

func (d *endingDisk) MkdirAll(p string) error {
	return d.after(func() error { return d.Machine.MkdirAll(p) })
}
func (d *endingDisk) Mkdir(p string) error {
	return d.after(func() error { return d.Machine.Mkdir(p) })
}
func (d *endingDisk) SyncFolder(p string) error {
	return d.after(func() error { return d.Machine.SyncFolder(p) })
}
func (d *endingDisk) Alike(p, model string) error {
	return d.after(func() error { return d.Machine.Alike(p, model) })
}
func (d *endingDisk) Link(a, b string) error {
	return d.after(func() error { return d.Machine.Link(a, b) })
}
func (d *endingDisk) Rename(a, b string) error {
	return d.after(func() error { return d.Machine.Rename(a, b) })
}
func (d *endingDisk) RenameNew(a, b string) error {
	return d.after(func() error { return d.Machine.RenameNew(a, b) })
}
func (d *endingDisk) Exchange(a, b string) error {
	return d.after(func() error { return d.Machine.Exchange(a, b) })
}
func (d *endingDisk) Remove(p string) error {
	return d.after(func() error { return d.Machine.Remove(p) })
}

func (d *endingDisk) Create(p string, mode fs.FileMode) (f folder.File, err error) {
	err = d.after(func() error {
		f, err = d.Machine.Create(p, mode)
		return err
	})
	return endingFile{f, d}, err
}

type endingFile struct {
	folder.File
	disk *endingDisk
}

func (f endingFile) Write(content []byte) (n int, err error) {
	if err := f.disk.step(); err != nil {
		n, _ = f.File.Write(content[:len(content)/2])
		return n, err
	}
	return f.File.Write(content)
}

func (f endingFile) Sync() error { return f.disk.after(f.File.Sync) }

// overwriting are calls of commands that put files into a folder that holds an earlier
// result: what makes that, and the call.
var overwriting = map[string][2][]string{
	"map":           {{"map", "week1.csv", "--field", "field.geojson", "--out", "out", "--quiet"}, {"map", "week2.csv", "--field", "field.geojson", "--out", "out", "--force", "--quiet"}},
	"report":        {{"map", "week2.csv", "--field", "field.geojson", "--out", "out", "--quiet"}, {"report", "out"}},
	"record":        {{"record", "out", "--date", "2026-07-17", "--field", "Pivot", "--area", "12ha", "--product", "product A=1 kg", "--who", "one"}, {"record", "out", "--date", "2026-07-18", "--field", "Pivot", "--area", "12ha", "--product", "product A=1 kg", "--who", "two"}},
	"compare":       {{"compare", "week1.csv", "week2.csv", "--field", "field.geojson", "--out", "out", "--quiet"}, {"compare", "week1.csv", "week3.csv", "--field", "field.geojson", "--out", "out", "--force", "--quiet"}},
	"handoff":       {{"handoff", "mapped", "--swath", "24m", "--out", "out", "--quiet"}, {"handoff", "mapped", "--swath", "12m", "--out", "out", "--force", "--quiet"}},
	"season export": {{"season", "export", "s.gpkg", "--out", "out"}, {"season", "export", "s.gpkg", "--out", "out", "--force"}},
}

// At every operation on its folder a command is killed, or the disk is full once. Once the
// next one has settled the folder, it holds the earlier result or the new one, to the last
// file; and what was refused for want of room has changed nothing. A few operations of each are
// tried, outside CI one in the middle; GEOCORIS_BREAK=all asks for all of them.
func TestEveryCommandBrokenOffAtEveryOperation(t *testing.T) {
	inWork(t)
	before := map[bool]string{false: "killed", true: "full"}
	for name, calls := range overwriting {
		require.NoError(t, os.RemoveAll("out"))
		if name == "record" {
			require.NoError(t, os.CopyFS("out", os.DirFS("mapped")))
		}
		code, _, errs := ran(t, Remembering(Streams{}), calls[0]...)
		require.Zero(t, code, errs)
		if name == "season export" { // which writes the same each time
			require.NoError(t, os.WriteFile("out/week1.csv", []byte("an older export"), 0o600))
		}
		require.NoError(t, os.RemoveAll("first"))
		require.NoError(t, os.CopyFS("first", os.DirFS("out")))
		earlier := within(t, "out")
		whole := &endingDisk{}
		code, _, errs = ran(t, Remembering(Streams{disk: whole}), calls[1]...)
		require.Zero(t, code, errs)
		later := within(t, "out")

		first, step := testkit.Few(1, (whole.done+1)/2), testkit.Few(max(1, whole.done/3), whole.done)
		if os.Getenv("GEOCORIS_BREAK") == "all" {
			first, step = 1, 1
		}
		tried, old, half := 0, 0, 0
		for at := first; at <= whole.done; at += step {
			for _, full := range []bool{false, true} {
				require.NoError(t, os.RemoveAll("out"))
				require.NoError(t, os.CopyFS("out", os.DirFS("first")))
				code, _, _ := ran(t, Remembering(Streams{disk: &endingDisk{at: at, full: full}}), calls[1]...)
				require.NoError(t, folder.Writer{}.Settle(t.Context(), "out"))
				now := within(t, "out")
				isOld, isNew := assert.ObjectsAreEqual(earlier, now), assert.ObjectsAreEqual(later, now)
				assert.True(t, isOld || isNew, "%s %s at operation %d: half", name, before[full], at)
				assert.True(t, isNew || code != 0, "%s %s at operation %d: said to be done, and is not", name, before[full], at)
				tried++
				if isOld {
					old++
				} else if !isNew {
					half++
				}
			}
		}
		t.Logf("%s: %d operations, broken off %d times: %d earlier, %d new, %d half", name, whole.done, tried, old, tried-old-half, half)
	}
}

// within is every file of a folder but for what a run that was broken off left.
func within(t *testing.T, path string) map[string]string {
	t.Helper()
	all := map[string]string{}
	require.NoError(t, fs.WalkDir(os.DirFS(path), ".", func(name string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() || folder.IsOwn(e.Name()) {
			return err
		}
		text, err := fs.ReadFile(os.DirFS(path), name)
		all[name] = string(text)
		return err
	}))
	return all
}
