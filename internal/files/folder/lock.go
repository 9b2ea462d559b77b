//go:build !windows

package folder

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
)

// makeLock holds a folder by a file in it. It stays where the program is killed.
func makeLock(folder string) (Hold, error) {
	path := filepath.Join(folder, lockName)
	f, err := os.OpenFile(path, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o666)
	if errors.Is(err, fs.ErrExist) {
		return nil, errBusy
	}
	if err != nil {
		return nil, err
	}
	return fileHold{f, path}, nil
}

// fileHold is a file that nobody else can make while it is there.
type fileHold struct {
	file *os.File
	path string
}

func (h fileHold) Moves() bool  { return false }
func (h fileHold) Close() error { return errors.Join(h.file.Close(), os.Remove(h.path)) }
