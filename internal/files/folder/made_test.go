package folder_test

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"sync/atomic"
	"syscall"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/files/folder"
)

// Of files that are made as they are written the last is made after all others, so that it
// may list them; one that cannot be made leaves the folder as it was.
func TestFilesMadeAsTheyAreWritten(t *testing.T) {
	path := filepath.Join(t.TempDir(), "out")
	var made atomic.Int32
	long := make([]byte, 1<<20)
	files := []folder.Output{
		{Name: "a", Make: func(w io.Writer) error { _, err := w.Write(long); made.Add(1); return err }},
		{Name: "b", Content: []byte("b")},
	}
	for i := range 20 { // more than are on their way at once
		files = append(files, folder.Output{Name: fmt.Sprint(i), Make: func(io.Writer) error { made.Add(1); return nil }})
	}
	files = append(files, folder.Output{Name: "run.json", Make: func(w io.Writer) error { _, err := fmt.Fprint(w, made.Load()); return err }})
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
	assert.Equal(t, "21", now("run.json"))

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
