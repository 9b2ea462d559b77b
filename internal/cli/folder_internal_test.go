package cli

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// contents are the files of a folder; a folder in it has the content "/".
func contents(t *testing.T, folder string) map[string]string {
	t.Helper()
	entries, err := os.ReadDir(folder)
	require.NoError(t, err)
	all := map[string]string{}
	for _, e := range entries {
		all[e.Name()] = "/"
		if !e.IsDir() {
			content, err := os.ReadFile(filepath.Join(folder, e.Name()))
			require.NoError(t, err)
			all[e.Name()] = string(content)
		}
	}
	return all
}

func filled(t *testing.T, folder string, files map[string]string) {
	t.Helper()
	require.NoError(t, os.MkdirAll(folder, 0o755))
	for name, content := range files {
		require.NoError(t, os.WriteFile(filepath.Join(folder, name), []byte(content), 0o644))
	}
}

func TestWriteFolderReplacesItsOwnAndLeavesTheRest(t *testing.T) {
	parent := t.TempDir()
	folder := filepath.Join(parent, "out")
	filled(t, folder, map[string]string{"a": "old", "b": "old", "theirs": "kept"})
	require.NoError(t, writeFolder(folder, []outFile{{"a", []byte("new")}, {"c", []byte("new")}}, []string{"a", "b", "c"}))
	assert.Equal(t, map[string]string{"a": "new", "c": "new", "theirs": "kept"}, contents(t, folder))
	assert.Equal(t, map[string]string{"out": "/"}, contents(t, parent), "nothing is left beside it")
}

// A folder where a file should go stops the work when some files have been moved:
// all go back.
func TestWriteFolderIsAllOrNone(t *testing.T) {
	parent := t.TempDir()
	folder := filepath.Join(parent, "out")
	before := map[string]string{"a": "old", "b": "old"}
	filled(t, folder, before)
	require.NoError(t, os.Mkdir(filepath.Join(folder, "c"), 0o755))
	before["c"] = "/"
	for _, stale := range [][]string{nil, {"a", "b"}} {
		err := writeFolder(folder, []outFile{{"a", []byte("new")}, {"c", []byte("new")}}, stale)
		assert.ErrorContains(t, err, "is a folder")
		assert.Equal(t, before, contents(t, folder))
		assert.Equal(t, map[string]string{"out": "/"}, contents(t, parent))
	}
	err := writeFolder(folder, []outFile{{"a", []byte("new")}, {"no/such", nil}}, nil)
	assert.Error(t, err)
	assert.Equal(t, before, contents(t, folder))
}

func TestWriteFolderFollowsALink(t *testing.T) {
	for _, before := range []map[string]string{{}, {"a": "old", "theirs": "kept"}} {
		parent := t.TempDir()
		folder, link := filepath.Join(parent, "real"), filepath.Join(parent, "link")
		filled(t, folder, before)
		if err := os.Symlink("real", link); err != nil {
			t.Skip("no links here:", err)
		}
		require.NoError(t, writeFolder(link, []outFile{{"a", []byte("new")}}, nil))
		info, err := os.Lstat(link)
		require.NoError(t, err)
		assert.NotZero(t, info.Mode()&os.ModeSymlink, "still a link")
		assert.Equal(t, "new", contents(t, folder)["a"])
		assert.Equal(t, before["theirs"], contents(t, folder)["theirs"])
	}
}
