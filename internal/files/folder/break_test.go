package folder_test

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"syscall"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/files/folder"
)

// breaking is the machine up to one of its operations. There it fails once, or it
// ends, as a program that is killed: nothing after it has any effect.
type breaking struct {
	folder.Machine
	mu      sync.Mutex // files are synced side by side
	at      int        // the operation, counted from 1
	fail    error
	dead    bool
	done    int
	noSwap  bool
	reached string
}

func (b *breaking) step(what string) error {
	b.mu.Lock()
	defer b.mu.Unlock()
	if b.dead {
		return errors.New("is dead")
	}
	if b.done++; b.done != b.at {
		return nil
	}
	b.reached = what
	if b.fail != nil {
		return b.fail
	}
	b.dead = true
	return errors.New("is killed")
}

func (b *breaking) MkdirAll(path string) error {
	if err := b.step("mkdir all"); err != nil {
		return err
	}
	return b.Machine.MkdirAll(path)
}

func (b *breaking) Mkdir(path string) error {
	if err := b.step("mkdir"); err != nil {
		return err
	}
	return b.Machine.Mkdir(path)
}

func (b *breaking) Create(path string, mode fs.FileMode) (folder.File, error) {
	if err := b.step("create"); err != nil {
		return nil, err
	}
	f, err := b.Machine.Create(path, mode)
	return breakingFile{f, b}, err
}

func (b *breaking) SyncFolder(path string) error {
	if err := b.step("sync folder"); err != nil {
		return err
	}
	return b.Machine.SyncFolder(path)
}

func (b *breaking) Alike(path, model string) error {
	if err := b.step("alike"); err != nil {
		return err
	}
	return b.Machine.Alike(path, model)
}

func (b *breaking) Link(from, to string) error {
	if err := b.step("link"); err != nil {
		return err
	}
	return b.Machine.Link(from, to)
}

func (b *breaking) Rename(from, to string) error {
	if err := b.step("rename"); err != nil {
		return err
	}
	return b.Machine.Rename(from, to)
}

func (b *breaking) RenameNew(from, to string) error {
	if err := b.step("rename new"); err != nil {
		return err
	}
	return b.Machine.RenameNew(from, to)
}

func (b *breaking) Exchange(one, other string) error {
	if b.noSwap {
		return errors.ErrUnsupported
	}
	if err := b.step("exchange"); err != nil {
		return err
	}
	return b.Machine.Exchange(one, other)
}

func (b *breaking) Remove(path string) error {
	if err := b.step("remove"); err != nil {
		return err
	}
	return b.Machine.Remove(path)
}

func (b *breaking) Hold(path string) (folder.Hold, error) {
	if err := b.step("hold"); err != nil {
		return nil, err
	}
	return b.Machine.Hold(path)
}

type breakingFile struct {
	folder.File
	b *breaking
}

// Write writes a part of what a killed program, or a full disk, would not write whole.
func (f breakingFile) Write(content []byte) (int, error) {
	if err := f.b.step("write"); err != nil {
		n, _ := f.File.Write(content[:len(content)/2])
		return n, err
	}
	return f.File.Write(content)
}

func (f breakingFile) Sync() error {
	if err := f.b.step("sync"); err != nil {
		return err
	}
	return f.File.Sync()
}

// Close gives the file back whatever happens, as the end of a program does.
func (f breakingFile) Close() error {
	return errors.Join(f.b.step("close"), f.File.Close())
}

// place is where a change happens.
type place struct {
	name   string
	before map[string]string // nil where there is no folder yet
	noSwap bool
}

var (
	change = folder.Change{
		Files: []folder.Output{{Name: "a", Content: []byte("new a")}, {Name: "c", Content: []byte("new c")}, {Name: "run.json", Content: []byte("new run")}},
		Stale: []string{"a", "b", "run.json"},
	}
	places = []place{
		{"no folder", nil, false},
		{"an empty one", map[string]string{}, false},
		{"one with files", map[string]string{"a": "old a", "b": "old b", "run.json": "old run", "theirs": "kept", "more": "kept"}, false},
		{"one with a folder in it", map[string]string{"a": "old a", "b": "old b", "run.json": "old run", "theirs": "kept", "sub/file": "kept"}, false},
		{"one that cannot be moved", map[string]string{"a": "old a", "b": "old b", "run.json": "old run", "theirs": "kept"}, true},
	}
)

func (p place) after() map[string]string {
	after := map[string]string{"a": "new a", "c": "new c", "run.json": "new run"}
	for name, content := range p.before {
		if content == "kept" {
			after[name] = content
		}
	}
	return after
}

func (p place) make(t *testing.T) (path string) {
	path = filepath.Join(t.TempDir(), "out")
	if p.before == nil {
		return path
	}
	require.NoError(t, os.Mkdir(path, 0o755))
	for name, content := range p.before {
		name = filepath.Join(path, name)
		require.NoError(t, os.MkdirAll(filepath.Dir(name), 0o755))
		require.NoError(t, os.WriteFile(name, []byte(content), 0o644))
	}
	return path
}

// seen are the files below a folder, but for what geocoris left there; nil for none.
func seen(t *testing.T, path string) map[string]string {
	t.Helper()
	if _, err := os.Stat(path); err != nil {
		return nil
	}
	files := map[string]string{}
	require.NoError(t, filepath.WalkDir(path, func(name string, e fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case folder.IsOwn(e.Name()):
			return fs.SkipDir
		case e.IsDir():
			return nil
		}
		text, err := os.ReadFile(name)
		files[strings.TrimPrefix(filepath.ToSlash(name), filepath.ToSlash(path)+"/")] = string(text)
		return err
	}))
	return files
}

// own are the names that geocoris left beside a folder and in it.
func own(t *testing.T, path string) (left []string) {
	t.Helper()
	for _, at := range []string{filepath.Dir(path), path} {
		entries, _ := os.ReadDir(at)
		for _, e := range entries {
			if folder.IsOwn(e.Name()) {
				left = append(left, e.Name())
			}
		}
	}
	return left
}

func asIs() (folder.Change, error) { return change, nil }

// At every operation the program is killed. What is there then is the old state or the
// new one, to the last file, once whoever reads or writes next has settled it; and the
// next run works, and tells what was left.
func TestKilledAtEveryOperation(t *testing.T) {
	for _, p := range places {
		t.Run(p.name, func(t *testing.T) {
			old, new := 0, 0
			for at := 1; ; at++ {
				path := p.make(t)
				b := &breaking{at: at, noSwap: p.noSwap}
				err := folder.Writer{System: b}.Update(t.Context(), path, asIs)
				if b.reached == "" {
					require.NoError(t, err)
					assert.Equal(t, p.after(), seen(t, path))
					assert.Empty(t, own(t, path), "nothing is left")
					break
				}
				where := fmt.Sprintf("killed at %d, %s", at, b.reached)
				if now := seen(t, path); !same(now, p.before) && !same(now, p.after()) {
					assert.True(t, p.noSwap || p.before["sub/file"] != "", "%s: %v is half, and need not be", where, now)
					assert.NotContains(t, now, "run.json", where)
				}
				require.NoError(t, folder.Writer{}.Settle(t.Context(), path))
				switch now := seen(t, path); {
				case same(now, p.before):
					old++
				case same(now, p.after()):
					new++
				default:
					assert.Fail(t, "half", "%s: %v", where, now)
				}

				left := own(t, path)
				var notes []string
				w := folder.Writer{Say: func(note string) { notes = append(notes, note) }}
				require.NoError(t, w.Update(t.Context(), path, asIs), where)
				assert.Equal(t, p.after(), seen(t, path), where)
				assert.Len(t, notes, len(left), "%s: what was left is named", where)
				for i, note := range notes {
					assert.Contains(t, note, left[i])
				}
			}
			assert.Positive(t, old)
			assert.Positive(t, new)
		})
	}
}

// At every operation the disk is full, once. Where that is returned as an error nothing is
// half, and nothing is left.
func TestDiskFullAtEveryOperation(t *testing.T) {
	for _, p := range places {
		t.Run(p.name, func(t *testing.T) {
			refused := 0
			for at := 1; ; at++ {
				path := p.make(t)
				b := &breaking{at: at, fail: syscall.ENOSPC, noSwap: p.noSwap}
				err := folder.Writer{System: b}.Update(t.Context(), path, asIs)
				if b.reached == "" {
					break
				}
				where := fmt.Sprintf("full at %d, %s", at, b.reached)
				now := seen(t, path)
				if err == nil {
					assert.Equal(t, p.after(), now, where)
				} else {
					refused++
					assert.ErrorIs(t, err, syscall.ENOSPC)
					assert.True(t, same(now, p.before) || same(now, p.after()), "%s: %v", where, now)
				}
				if b.reached != "remove" {
					assert.Empty(t, own(t, path), where)
				}
			}
			assert.Greater(t, refused, 9)
		})
	}
}

func same(a, b map[string]string) bool {
	if len(a) != len(b) || (a == nil) != (b == nil) {
		return false
	}
	for name := range a {
		if v, there := b[name]; !there || v != a[name] {
			return false
		}
	}
	return true
}

// What a run left that was killed while it wrote a new folder is half of what the next one
// writes: nobody is asked to move it there.
func TestHalfOfANewFolderIsNotOfferedBack(t *testing.T) {
	parent := t.TempDir()
	left := filepath.Join(parent, ".geocoris-out-4711")
	require.NoError(t, os.MkdirAll(left, 0o755))
	for _, name := range []string{"a", "applied.csv"} {
		require.NoError(t, os.WriteFile(filepath.Join(left, name), []byte("half"), 0o644))
	}
	var notes []string
	w := folder.Writer{Say: func(note string) { notes = append(notes, note) }}
	require.NoError(t, w.Update(t.Context(), filepath.Join(parent, "out"), asIs))
	require.Len(t, notes, 1)
	assert.Contains(t, notes[0], "and holds applied.csv, which "+filepath.Join(parent, "out")+" does not: move back", "a was written anew")
}

// What a version before this one left when it was killed between its renames: the
// table is nowhere else.
func TestWhatWasLeftIsOfferedBack(t *testing.T) {
	parent := t.TempDir()
	path := filepath.Join(parent, "out")
	for name, content := range map[string]string{".geocoris-4711/applied.csv": "x", "out/a": "old"} {
		name = filepath.Join(parent, name)
		require.NoError(t, os.MkdirAll(filepath.Dir(name), 0o755))
		require.NoError(t, os.WriteFile(name, []byte(content), 0o644))
	}
	var notes []string
	w := folder.Writer{Say: func(note string) { notes = append(notes, note) }}
	require.NoError(t, w.Update(t.Context(), path, asIs))
	require.Len(t, notes, 1)
	assert.Contains(t, notes[0], ".geocoris-4711 was left by a run that was broken off, and holds applied.csv, which "+path+" does not: move back")
	kept, err := os.ReadFile(filepath.Join(parent, ".geocoris-4711", "applied.csv"))
	require.NoError(t, err)
	assert.Equal(t, "x", string(kept), "and is not touched")
	assert.True(t, slices.Contains(own(t, path), ".geocoris-4711"))
}
