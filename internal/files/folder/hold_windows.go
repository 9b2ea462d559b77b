package folder

import (
	"errors"
	"os"
	"path/filepath"

	"golang.org/x/sys/windows"
)

// hold makes a file that nobody else can open; the system removes it when it is
// closed, or when the program ends.
func hold(folder string) (Hold, error) {
	path := filepath.Join(folder, lockName)
	name, err := windows.UTF16PtrFromString(path)
	if err != nil {
		return nil, err
	}
	h, err := windows.CreateFile(name, windows.GENERIC_WRITE|windows.DELETE, 0, nil, windows.OPEN_ALWAYS,
		windows.FILE_ATTRIBUTE_HIDDEN|windows.FILE_FLAG_DELETE_ON_CLOSE, 0)
	switch {
	case errors.Is(err, windows.ERROR_SHARING_VIOLATION), errors.Is(err, windows.ERROR_DELETE_PENDING):
		return nil, errBusy
	case err != nil:
		return nil, &os.PathError{Op: "open", Path: path, Err: err}
	}
	return systemHold{os.NewFile(uintptr(h), path)}, nil
}

type systemHold struct{ *os.File }

func (systemHold) Moves() bool { return false }

func alive(string) bool { return false } // not to be known here

func alike(string, string) error { return nil } // nothing to give

func noSuchStep(err error) bool { return errors.Is(err, errors.ErrUnsupported) }
