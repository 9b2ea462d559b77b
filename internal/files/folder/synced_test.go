package folder_test

import (
	"fmt"
	"io/fs"
	"path/filepath"
	"sync/atomic"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/files/folder"
)

// synced is the machine, and how many files it brought to the disk before they counted.
type synced struct {
	folder.Machine
	files   atomic.Int64
	counted int64
}

type syncedFile struct {
	folder.File
	of *synced
}

func (s *synced) Create(path string, mode fs.FileMode) (folder.File, error) {
	f, err := s.Machine.Create(path, mode)
	return syncedFile{f, s}, err
}

func (f syncedFile) Sync() error {
	f.of.files.Add(1)
	return f.File.Sync()
}

func (s *synced) RenameNew(from, to string) error {
	s.counted = s.files.Load()
	return s.Machine.RenameNew(from, to)
}

// However many files there are, each is on the disk before any counts.
func TestEveryFileIsOnTheDiskBeforeItCounts(t *testing.T) {
	for _, n := range []int{1, 15, 16, 17, 40} {
		var names []string
		want := map[string]string{}
		for i := range n {
			names = append(names, fmt.Sprint("file", i))
			want[names[i]] = "new"
		}
		path, machine := filepath.Join(t.TempDir(), "out"), &synced{}
		change := func() (folder.Change, error) { return folder.Change{Files: files(names...)}, nil }
		require.NoError(t, folder.Writer{System: machine}.Update(t.Context(), path, change))
		assert.Equal(t, int64(n), machine.counted)
		assert.Equal(t, want, seen(t, path))
	}
}
