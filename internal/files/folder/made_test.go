package folder_test

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/files/folder"
)

// Files that are made as they are written come in their order, so that the last may list
// the others; one that cannot be made leaves the folder as it was.
func TestFilesMadeAsTheyAreWritten(t *testing.T) {
	path := filepath.Join(t.TempDir(), "out")
	listed := ""
	long := make([]byte, 1<<20)
	files := []folder.Output{
		{Name: "a", Make: func(w io.Writer) error { listed += "a"; _, err := w.Write(long); return err }},
		{Name: "b", Content: []byte("b")},
		{Name: "run.json", Make: func(w io.Writer) error { _, err := fmt.Fprint(w, listed); return err }},
	}
	write := func(files []folder.Output) error {
		return folder.Writer{}.Update(t.Context(), path, func() (folder.Change, error) { return folder.Change{Files: files}, nil })
	}
	require.NoError(t, write(files))
	now := func(name string) string {
		text, err := os.ReadFile(filepath.Join(path, name))
		require.NoError(t, err)
		return string(text)
	}
	assert.Equal(t, string(long), now("a"))
	assert.Equal(t, "b", now("b"))
	assert.Equal(t, "a", now("run.json"))

	broken := errors.New("cannot be made")
	files[0].Content, files[0].Make = []byte("another"), nil
	files[1].Make = func(w io.Writer) error { _, _ = w.Write(long); return broken }
	require.ErrorIs(t, write(files), broken)
	assert.Equal(t, string(long), now("a"))
	beside, err := os.ReadDir(filepath.Dir(path))
	require.NoError(t, err)
	assert.Len(t, beside, 1, "nothing is left beside it")
}

// A disk that is full while a file is made is one error, on one line.
func TestAFullDiskWhileAFileIsMade(t *testing.T) {
	b := &breaking{fail: syscall.ENOSPC}
	err := folder.Writer{System: b}.Update(t.Context(), filepath.Join(t.TempDir(), "out"), func() (folder.Change, error) {
		return folder.Change{Files: []folder.Output{{Name: "a", Make: func(w io.Writer) error {
			b.at = b.done + 1 // the next operation, which writes
			_, err := w.Write(make([]byte, 1<<20))
			return err
		}}}}, nil
	})
	require.ErrorIs(t, err, syscall.ENOSPC)
	assert.Equal(t, "write", b.reached)
	assert.Equal(t, 1, strings.Count(err.Error(), syscall.ENOSPC.Error()), "%q", err)
}
