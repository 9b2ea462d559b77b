package folder

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"runtime"
)

// A System is the operations that change files. Every one that this package makes
// goes through it, so that a test can break off at each.
type System interface {
	MkdirAll(path string) error
	Mkdir(path string) error
	Create(path string, mode fs.FileMode) (File, error) // an error where something is there
	SyncFolder(path string) error                       // its names are on the disk
	Alike(folder, model string) error                   // mode and owner as those of model
	Link(from, to string) error                         // a second name of one file
	Rename(from, to string) error                       // over a file that is there
	RenameNew(from, to string) error                    // an error where something is there
	Exchange(a, b string) error                         // in one step; an error where that cannot be
	Remove(path string) error                           // a file, a link, or an empty folder
	Hold(folder string) (Hold, error)                   // an errBusy where another has it
}

// A File is a file being written.
type File interface {
	io.WriteCloser
	Sync() error
}

// A Hold keeps others from writing into a folder.
type Hold interface {
	io.Closer
	Moves() bool // whether the folder may be moved while it is held
}

// errBusy is a folder that another program is writing into.
var errBusy = errors.New("another program is writing into it")

// Machine is the real one.
type Machine struct{}

// MkdirAll implements [System].
func (Machine) MkdirAll(path string) error { return os.MkdirAll(path, 0o777) }

// Mkdir implements [System].
func (Machine) Mkdir(path string) error { return os.Mkdir(path, 0o777) }

// Create implements [System].
func (Machine) Create(path string, mode fs.FileMode) (File, error) {
	return os.OpenFile(path, os.O_CREATE|os.O_EXCL|os.O_WRONLY, mode)
}

// SyncFolder implements [System]; where the system knows no such thing it does
// nothing.
func (Machine) SyncFolder(path string) error {
	if runtime.GOOS == "windows" || runtime.GOOS == "js" || runtime.GOOS == "plan9" {
		return nil
	}
	f, err := os.Open(path)
	if err != nil {
		return err
	}
	err = f.Sync()
	if noSuchStep(err) {
		err = nil
	}
	return errors.Join(err, f.Close())
}

// Alike implements [System].
func (Machine) Alike(folder, model string) error { return alike(folder, model) }

// Link implements [System].
func (Machine) Link(from, to string) error { return os.Link(from, to) }

// Rename implements [System].
func (Machine) Rename(from, to string) error { return os.Rename(from, to) }

// RenameNew implements [System].
func (Machine) RenameNew(from, to string) error {
	err := renameNew(from, to)
	if !noSuchStep(err) {
		return err
	}
	if _, err := os.Lstat(to); err == nil {
		return &fs.PathError{Op: "rename", Path: to, Err: fs.ErrExist}
	}
	return os.Rename(from, to) // onto nothing but an empty folder that came this moment
}

// Exchange implements [System].
func (Machine) Exchange(a, b string) error { return exchange(a, b) }

// Remove implements [System].
func (Machine) Remove(path string) error { return os.Remove(path) }

// Hold implements [System].
func (Machine) Hold(folder string) (Hold, error) { return hold(folder) }
