//go:build linux || darwin || freebsd || netbsd || openbsd || dragonfly

package folder

import (
	"errors"
	"io/fs"
	"os"
	"syscall"
)

// handle holds a folder by the system's own lock, which ends with the program.
type handle struct{ *os.File }

func (handle) Moves() bool { return true }

func hold(folder string) (Hold, error) {
	f, err := os.Open(folder)
	if err != nil {
		return nil, err
	}
	err = lock(f)
	if noSuchStep(err) || errors.Is(err, syscall.EBADF) || errors.Is(err, syscall.ENOLCK) { // shares of other machines
		f.Close()
		return holdByFile(folder)
	}
	if errors.Is(err, syscall.EWOULDBLOCK) {
		err = errBusy
	}
	if err == nil {
		err = stillThere(f, folder)
	}
	if err != nil {
		f.Close()
		return nil, err
	}
	return handle{f}, nil
}

func lock(f *os.File) error {
	for {
		err := syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB)
		if !errors.Is(err, syscall.EINTR) {
			return err
		}
	}
}

// stillThere tells whether the name leads to the folder that is held: another may
// have taken its place while we waited.
func stillThere(f *os.File, folder string) error {
	held, err := f.Stat()
	if err != nil {
		return err
	}
	now, err := os.Stat(folder)
	if err != nil {
		return err
	}
	if !os.SameFile(held, now) {
		return errBusy
	}
	return nil
}

// holdByFile makes a file that is there already for everybody else.
func holdByFile(folder string) (Hold, error) { return makeLock(folder) }

// alive tells whether a program is at work in a folder.
func alive(folder string) bool {
	f, err := os.Open(folder)
	if err != nil {
		return false
	}
	defer f.Close()
	return errors.Is(lock(f), syscall.EWOULDBLOCK)
}

// alike gives a folder the mode and the owner of another.
func alike(folder, model string) error {
	if err := plain(model); err != nil {
		return err
	}
	want, err := os.Stat(model)
	if err != nil {
		return err
	}
	is, err := os.Stat(folder)
	if err != nil {
		return err
	}
	a, b := want.Sys().(*syscall.Stat_t), is.Sys().(*syscall.Stat_t)
	if a.Uid != b.Uid || a.Gid != b.Gid {
		if err := os.Chown(folder, int(a.Uid), int(a.Gid)); err != nil {
			return err
		}
	}
	return os.Chmod(folder, want.Mode()&(fs.ModePerm|fs.ModeSetgid|fs.ModeSticky))
}

func noSuchStep(err error) bool {
	return errors.Is(err, errors.ErrUnsupported) || errors.Is(err, syscall.EINVAL) || errors.Is(err, syscall.ENOSYS) || errors.Is(err, syscall.ENOTSUP)
}
