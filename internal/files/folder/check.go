package folder

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"
)

// An Error says what stands in the way of files, and how to go around it.
type Error struct {
	Msg  string
	Hint string
}

// Error is the message on one line, the hint left out.
func (e *Error) Error() string { return e.Msg }

// Check refuses a path that leads to something other than a folder; one where nothing
// is yet is as good. Every command asks it before any work is done, and [Writer]
// asks it again.
func Check(path string) error {
	_, _, err := find(path)
	return err
}

// find is the folder that a path leads to, links followed, and whether it is there.
func find(path string) (real string, there bool, err error) {
	if path == "" {
		return "", false, &Error{"the name of the folder is empty", "give the name of a folder"}
	}
	if real, err = filepath.Abs(path); err != nil {
		return "", false, err
	}
	_, err = os.Lstat(real)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return real, false, checkAbove(path)
	case errors.Is(err, syscall.ENOTDIR):
		return "", false, checkAbove(path)
	case err != nil:
		return "", false, err
	}
	if real, err = filepath.EvalSymlinks(real); errors.Is(err, fs.ErrNotExist) {
		return "", false, &Error{path + " is a link to a folder that is not there", "make that folder, or choose another"}
	} else if err != nil {
		return "", false, err
	}
	info, err := os.Stat(real)
	if err != nil {
		return "", false, err
	}
	if !info.IsDir() {
		return "", false, noFolder(path)
	}
	return real, true, nil
}

func noFolder(path string) error {
	return &Error{path + " is a file, and a folder is wanted", "choose another name: files are put into a folder, and this file is left as it is"}
}

// checkAbove refuses a path that leads through a file.
func checkAbove(path string) error {
	for above := filepath.Dir(filepath.Clean(path)); ; above = filepath.Dir(above) {
		info, err := os.Stat(above)
		switch {
		case err == nil && !info.IsDir():
			return noFolder(above)
		case err == nil, above == filepath.Dir(above):
			return nil
		}
	}
}

// CheckNew refuses a folder that holds a file of one of the names.
func CheckNew(path string, names []string) error {
	for _, name := range names {
		if _, err := os.Lstat(filepath.Join(path, name)); err == nil {
			return &Error{filepath.Join(path, name) + " is there already", "choose another folder, or give --force"}
		}
	}
	return nil
}

// CheckApart refuses a folder in which one of the names is an input: it would be
// overwritten by its own result.
func CheckApart(path string, names, inputs []string) error {
	for _, in := range inputs {
		for _, name := range names {
			if sameFile(in, filepath.Join(path, name)) {
				return &Error{in + " would be overwritten by its own result", "choose another folder"}
			}
		}
	}
	return nil
}

func sameFile(a, b string) bool {
	ia, errA := os.Stat(a)
	ib, errB := os.Stat(b)
	return errA == nil && errB == nil && os.SameFile(ia, ib)
}

// prefix begins the names of everything that a run leaves when it is killed.
const prefix = ".geocoris-"

// lockName is the file that holds a folder where the system has no other way.
const lockName = prefix + "lock"

// IsOwn tells names that this package makes while it works.
func IsOwn(name string) bool { return strings.HasPrefix(name, prefix) }

// checkName refuses a name that would lead out of the folder, or hide in it.
func checkName(name string) error {
	if name == "" || name == "." || name == ".." || filepath.Base(name) != name || IsOwn(name) {
		return fmt.Errorf("%q cannot name a file of a folder", name)
	}
	return nil
}
