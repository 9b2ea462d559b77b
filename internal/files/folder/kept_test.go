package folder_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/files/folder"
)

var ofThis = []folder.Part{{What: "counts.csv", SHA256: "a"}, {What: "setting cell", SHA256: "b"}}

// Wherever a file of pieces is cut or hurt, those before are whole and those after are none.
func TestPiecesAreWholeOrNone(t *testing.T) {
	out := filepath.Join(t.TempDir(), "out")
	names, contents := []string{"1 North", "2 South", "3 Pond"}, []string{"north", "", strings.Repeat("pond", 20)}
	k, err := folder.Writer{}.Keep(out, ofThis, false)
	require.NoError(t, err)
	for i, name := range names {
		require.NoError(t, k.Save(name, []byte(contents[i])))
	}
	k.Leave()
	path := filepath.Join(filepath.Dir(out), ".geocoris-out-kept", "1")
	whole, err := os.ReadFile(path)
	require.NoError(t, err)
	seen := map[int]bool{}
	for n := range len(whole) + 1 {
		for _, hurt := range []bool{false, true} {
			text := append([]byte(nil), whole[:n]...)
			if hurt && n > 0 {
				text = append([]byte(nil), whole...)
				text[n-1] ^= 1
			}
			require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o700))
			require.NoError(t, os.WriteFile(path, text, 0o600))
			k, err := folder.Writer{}.Keep(out, ofThis, false)
			require.NoError(t, err)
			seen[k.Found()] = true
			for i, name := range names {
				got, ok := k.Load(name)
				assert.Equal(t, i < k.Found(), ok)
				if ok {
					assert.Equal(t, contents[i], string(got))
				}
			}
			k.Leave()
		}
	}
	assert.Len(t, seen, 4, "none, one, two and three")
}

// Runs keep what they add side by side; another key is refused by what differs, one program
// keeps at a time, and what is done leaves nothing.
func TestPiecesOfSeveralRuns(t *testing.T) {
	out := filepath.Join(t.TempDir(), "new", "out")
	for i, name := range []string{"a", "b", "c"} {
		k, err := folder.Writer{}.Keep(out, ofThis, false)
		require.NoError(t, err)
		assert.Equal(t, i, k.Found())
		require.NoError(t, k.Save(name, []byte(name)))
		_, err = folder.Writer{}.Keep(out, ofThis, false)
		assert.True(t, folder.Busy(err), "%v", err)
		k.Leave()
	}
	for what, key := range map[string][]folder.Part{
		"setting cell": {ofThis[0], {What: "setting cell", SHA256: "c"}}, "counts.csv": nil,
		"more.csv": append(append([]folder.Part(nil), ofThis...), folder.Part{What: "more.csv"}),
	} {
		_, err := folder.Writer{}.Keep(out, key, false)
		var other *folder.OtherKept
		require.ErrorAs(t, err, &other)
		assert.Equal(t, what, other.What)
	}
	k, err := folder.Writer{}.Keep(out, ofThis, false)
	require.NoError(t, err)
	got, ok := k.Load("b")
	assert.True(t, ok)
	assert.Equal(t, "b", string(got))
	k.Leave() // nothing was added
	k, err = folder.Writer{}.Keep(out, ofThis, false)
	require.NoError(t, err)
	assert.Equal(t, 3, k.Found())
	k.Done()
	entries, err := os.ReadDir(filepath.Dir(out))
	require.NoError(t, err)
	assert.Empty(t, entries)

	k, err = folder.Writer{}.Keep(out, ofThis, false)
	require.NoError(t, err)
	require.NoError(t, k.Save("a", nil))
	k.Leave()
	k, err = folder.Writer{}.Keep(out, nil, true)
	require.NoError(t, err)
	assert.Zero(t, k.Found(), "dropped")
	k.Leave()
	entries, err = os.ReadDir(filepath.Dir(out))
	require.NoError(t, err)
	assert.Empty(t, entries, "nothing was kept")
}

// Files that are not ours stay, whatever their names are.
func TestOnlyPiecesAreRemoved(t *testing.T) {
	out := filepath.Join(t.TempDir(), "out")
	at := filepath.Join(filepath.Dir(out), ".geocoris-out-kept")
	require.NoError(t, os.Mkdir(at, 0o700))
	for _, name := range []string{"1", "2026"} {
		require.NoError(t, os.WriteFile(filepath.Join(at, name), []byte("a diary of "+name), 0o600))
	}
	for _, drop := range []bool{false, true} {
		k, err := folder.Writer{}.Keep(out, ofThis, drop)
		require.NoError(t, err)
		require.NoError(t, k.Save("a", []byte("a")))
		k.Done()
		for _, name := range []string{"1", "2026"} {
			text, err := os.ReadFile(filepath.Join(at, name))
			require.NoError(t, err)
			assert.Equal(t, "a diary of "+name, string(text))
		}
	}
}

// A link in the place of the folder leads to what is not ours, and is refused.
func TestNothingIsKeptBehindALink(t *testing.T) {
	out, elsewhere := filepath.Join(t.TempDir(), "out"), t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(elsewhere, "1"), []byte("a diary"), 0o600))
	link := filepath.Join(filepath.Dir(out), ".geocoris-out-kept")
	if err := os.Symlink(elsewhere, link); err != nil {
		t.Skip("no links here: ", err)
	}
	for _, drop := range []bool{false, true} {
		_, err := folder.Writer{}.Keep(out, ofThis, drop)
		assert.EqualError(t, err, link+" is no folder of ours; remove it or rename it")
	}
	entries, err := os.ReadDir(elsewhere)
	require.NoError(t, err)
	assert.Len(t, entries, 1)
}
