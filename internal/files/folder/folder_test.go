package folder_test

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/files/folder"
	_ "github.com/geocoris/geocoris/internal/testkit" // knows -fields
)

func filled(t *testing.T, path string, files map[string]string) {
	t.Helper()
	require.NoError(t, os.MkdirAll(path, 0o755))
	for name, content := range files {
		require.NoError(t, os.WriteFile(filepath.Join(path, name), []byte(content), 0o644))
	}
}

func put(path string, c folder.Change) error {
	return folder.Writer{}.Update(context.Background(), path, func() (folder.Change, error) { return c, nil })
}

func files(names ...string) (out []folder.Output) {
	for _, name := range names {
		out = append(out, folder.Output{Name: name, Content: []byte("new")})
	}
	return out
}

func TestUpdateReplacesItsOwnAndLeavesTheRest(t *testing.T) {
	path := filepath.Join(t.TempDir(), "out")
	filled(t, path, map[string]string{"a": "old", "b": "old", "theirs": "kept"})
	require.NoError(t, put(path, folder.Change{Files: files("a", "c"), Stale: []string{"a", "b", "c"}}))
	assert.Equal(t, map[string]string{"a": "new", "c": "new", "theirs": "kept"}, seen(t, path))
	assert.Empty(t, own(t, path), "nothing is left beside it")
}

func TestUpdateRefuses(t *testing.T) {
	parent := t.TempDir()
	path := filepath.Join(parent, "out")
	before := map[string]string{"a": "old", "b": "old"}
	filled(t, path, before)
	require.NoError(t, os.Mkdir(filepath.Join(path, "c"), 0o755))
	for want, c := range map[string]folder.Change{
		"c is a folder":                {Files: files("a", "c")},
		"is a folder":                  {Files: files("a"), Stale: []string{"c"}},
		`"no/such" cannot name a file`: {Files: files("a", "no/such")},
		`".." cannot name a file`:      {Files: files("a"), Stale: []string{".."}},
		"a is there already":           {Files: files("n", "a"), New: true},
	} {
		assert.ErrorContains(t, put(path, c), want)
		assert.Equal(t, before, seen(t, path))
		assert.Empty(t, own(t, path))
	}
}

// What is no folder is never touched, whatever leads to it.
func TestNoFolderIsRefused(t *testing.T) {
	parent := t.TempDir()
	at := func(name string) string { return filepath.Join(parent, name) }
	require.NoError(t, os.WriteFile(at("file"), []byte("theirs"), 0o644))
	paths := map[string]string{
		at("file"):       "file is a file, and a folder is wanted",
		at("file") + "/": "is a file, and a folder is wanted",
		at("file/in/it"): "file is a file, and a folder is wanted",
		"":               "the name of the folder is empty",
	}
	if os.Symlink("nowhere", at("dangling")) == nil && os.Symlink("file", at("link")) == nil {
		paths[at("dangling")] = "dangling is a link to a folder that is not there"
		paths[at("link")] = "link is a file, and a folder is wanted"
	}
	for path, want := range paths {
		assert.ErrorContains(t, folder.Check(path), want)
		assert.ErrorContains(t, put(path, folder.Change{Files: files("a")}), want)
	}
	text, err := os.ReadFile(at("file"))
	require.NoError(t, err)
	assert.Equal(t, "theirs", string(text))
	for _, path := range []string{parent, at("new"), at("new/in/it")} {
		assert.NoError(t, folder.Check(path))
	}
}

func TestUpdateFollowsALinkToTheFolder(t *testing.T) {
	for _, before := range []map[string]string{{}, {"a": "old", "theirs": "kept"}} {
		parent := t.TempDir()
		path, link := filepath.Join(parent, "real"), filepath.Join(parent, "link")
		filled(t, path, before)
		if err := os.Symlink("real", link); err != nil {
			t.Skip("no links here:", err)
		}
		require.NoError(t, put(link, folder.Change{Files: files("a")}))
		info, err := os.Lstat(link)
		require.NoError(t, err)
		assert.NotZero(t, info.Mode()&os.ModeSymlink, "still a link")
		assert.Equal(t, "new", seen(t, path)["a"])
		assert.Equal(t, before["theirs"], seen(t, path)["theirs"])
	}
}

// A file under one of the names may be a link, hard or symbolic: it is replaced, and
// what it leads to stays.
func TestWhatLinksLeadToStays(t *testing.T) {
	for _, sub := range []bool{false, true} {
		parent := t.TempDir()
		path, theirs := filepath.Join(parent, "out"), filepath.Join(parent, "theirs")
		filled(t, path, nil)
		require.NoError(t, os.WriteFile(theirs, []byte("kept"), 0o644))
		if os.Symlink("../theirs", filepath.Join(path, "a")) != nil || os.Link(theirs, filepath.Join(path, "b")) != nil || os.Symlink("../theirs", filepath.Join(path, "other")) != nil {
			t.Skip("no links here")
		}
		if sub {
			require.NoError(t, os.Mkdir(filepath.Join(path, "sub"), 0o755))
		}
		require.NoError(t, put(path, folder.Change{Files: files("a", "b")}))
		assert.Equal(t, map[string]string{"a": "new", "b": "new", "other": "kept"}, seen(t, path))
		text, err := os.ReadFile(theirs)
		require.NoError(t, err)
		assert.Equal(t, "kept", string(text))
		to, err := os.Readlink(filepath.Join(path, "other"))
		require.NoError(t, err)
		assert.Equal(t, "../theirs", filepath.ToSlash(to), "a link of theirs is one still")
	}
}

func TestModesAreKept(t *testing.T) {
	path := filepath.Join(t.TempDir(), "out")
	filled(t, path, map[string]string{"a": "old", "theirs": "kept"})
	require.NoError(t, os.Chmod(filepath.Join(path, "a"), 0o600))
	for _, mode := range []os.FileMode{0o700, 0o770, 0o755} {
		require.NoError(t, os.Chmod(path, mode))
		require.NoError(t, put(path, folder.Change{Files: files("a", "b")}))
		info, err := os.Stat(path)
		require.NoError(t, err)
		assert.Equal(t, mode, info.Mode().Perm())
		info, err = os.Stat(filepath.Join(path, "a"))
		require.NoError(t, err)
		assert.Equal(t, os.FileMode(0o600), info.Mode().Perm(), "who may read a file may read what takes its place")
	}
}

// The folder that a shell stands in is not pulled away from under it.
func TestTheWorkingFolderStaysInItsPlace(t *testing.T) {
	path := filepath.Join(t.TempDir(), "out")
	filled(t, path, map[string]string{"a": "old"})
	t.Chdir(path)
	before, err := os.Stat(path)
	require.NoError(t, err)
	require.NoError(t, put(".", folder.Change{Files: files("a")}))
	after, err := os.Stat(path)
	require.NoError(t, err)
	assert.True(t, os.SameFile(before, after))
	assert.Equal(t, map[string]string{"a": "new"}, seen(t, path))
}

// Who works in a folder and holds on to it goes on to do so.
func TestAFolderStaysWhereThatIsAskedFor(t *testing.T) {
	path := filepath.Join(t.TempDir(), "out")
	filled(t, path, map[string]string{"a": "old", "theirs": "kept"})
	held, err := os.OpenRoot(path)
	require.NoError(t, err)
	defer held.Close()
	for range 2 {
		require.NoError(t, put(path, folder.Change{Files: files("a", "b"), Stay: true}))
		assert.Equal(t, map[string]string{"a": "new", "b": "new", "theirs": "kept"}, seen(t, path))
		assert.Empty(t, own(t, path), "nothing is left beside it")
		content, err := held.ReadFile("b")
		require.NoError(t, err, "what is held is the folder still")
		assert.Equal(t, "new", string(content))
	}
}

// Many add a line to one file, each by what it holds: none is lost, in a folder that
// changes places and in one that does not.
func TestWritersWaitForOneAnother(t *testing.T) {
	for _, kept := range []string{"none", "sub/file"} {
		path := filepath.Join(t.TempDir(), "out")
		filled(t, filepath.Join(path, filepath.Dir(kept)), nil)
		const writers, lines = 8, 4
		var all sync.WaitGroup
		for n := range writers {
			all.Go(func() {
				for line := range lines {
					assert.NoError(t, folder.Writer{}.Update(t.Context(), path, func() (folder.Change, error) {
						text, err := os.ReadFile(filepath.Join(path, "table"))
						if os.IsNotExist(err) {
							err = nil
						}
						return folder.Change{Files: []folder.Output{{Name: "table", Content: fmt.Appendf(text, "%d.%d\n", n, line)}}}, err
					}))
				}
			})
		}
		all.Wait()
		assert.Equal(t, writers*lines, strings.Count(seen(t, path)["table"], "\n"))
		assert.Empty(t, own(t, path))
	}
}

// Where no folder is yet, of two that begin at once the second finds that of the first.
func TestTwoBeginAFolderAtOnce(t *testing.T) {
	path := filepath.Join(t.TempDir(), "new", "out")
	var all sync.WaitGroup
	var refused sync.Map
	for n := range 8 {
		all.Go(func() {
			refused.Store(n, put(path, folder.Change{Files: files("a", "b"), New: true}))
		})
	}
	all.Wait()
	done := 0
	refused.Range(func(_, err any) bool {
		if err == nil {
			done++
		} else {
			assert.ErrorContains(t, err.(error), "is there already")
		}
		return true
	})
	assert.Equal(t, 1, done, "nobody overwrites what another has just made")
	assert.Equal(t, map[string]string{"a": "new", "b": "new"}, seen(t, path))
}

func TestABusyFolderIsReported(t *testing.T) {
	path := filepath.Join(t.TempDir(), "out")
	filled(t, path, nil)
	held, err := folder.Machine{}.Hold(path)
	require.NoError(t, err)
	w := folder.Writer{Patience: 30 * time.Millisecond}
	err = w.Update(t.Context(), path, asIs)
	assert.ErrorContains(t, err, "another program is writing into it")
	require.NoError(t, held.Close())
	assert.NoError(t, w.Update(t.Context(), path, asIs))
}

// A signal ends the context: nothing is written, and nothing is left.
func TestStoppedBeforeItCounts(t *testing.T) {
	for _, p := range places {
		path := p.make(t)
		ctx, stop := context.WithCancel(t.Context())
		err := folder.Writer{}.Update(ctx, path, func() (folder.Change, error) {
			stop()
			return change, nil
		})
		assert.ErrorIs(t, err, context.Canceled, p.name)
		assert.True(t, same(seen(t, path), p.before), p.name)
		assert.Empty(t, own(t, path), p.name)
	}
}

// late writes into a folder when its new state is ready, as another program may.
type late struct {
	folder.Machine
	path string
}

func (l late) Exchange(a, b string) error {
	for name, text := range map[string]string{"late": "came late", "theirs": "saved late"} {
		_ = os.WriteFile(filepath.Join(l.path, name+"~"), []byte(text), 0o644)
		_ = os.Rename(filepath.Join(l.path, name+"~"), filepath.Join(l.path, name))
	}
	return l.Machine.Exchange(a, b)
}

func TestWhatOthersWriteMeanwhileStays(t *testing.T) {
	path := filepath.Join(t.TempDir(), "out")
	filled(t, path, map[string]string{"a": "old", "theirs": "saved before"})
	require.NoError(t, folder.Writer{System: late{path: path}}.Update(t.Context(), path, asIs))
	now := seen(t, path)
	assert.Equal(t, "came late", now["late"])
	assert.Equal(t, "saved late", now["theirs"])
	assert.Equal(t, "new a", now["a"])
	assert.Empty(t, own(t, path))
}

func TestCheckApart(t *testing.T) {
	path := t.TempDir()
	filled(t, path, map[string]string{"a": "x"})
	in := filepath.Join(path, ".", "a")
	assert.ErrorContains(t, folder.CheckApart(path, []string{"b", "a"}, []string{in}), "would be overwritten by its own result")
	assert.NoError(t, folder.CheckApart(path, []string{"b"}, []string{in, "no such"}))
}
