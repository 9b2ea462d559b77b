package folder

import (
	"errors"
	"os"
	"strings"

	"golang.org/x/sys/unix"
)

func exchange(a, b string) error {
	if err := unix.Renameat2(unix.AT_FDCWD, a, unix.AT_FDCWD, b, unix.RENAME_EXCHANGE); err != nil {
		return &os.LinkError{Op: "exchange", Old: a, New: b, Err: err}
	}
	return nil
}

func renameNew(from, to string) error {
	if err := unix.Renameat2(unix.AT_FDCWD, from, unix.AT_FDCWD, to, unix.RENAME_NOREPLACE); err != nil {
		return &os.LinkError{Op: "rename", Old: from, New: to, Err: err}
	}
	return nil
}

// plain is an error for a folder with access lists or attributes of its own, which a
// new folder would not have.
func plain(folder string) error {
	names := make([]byte, 4096)
	n, err := unix.Llistxattr(folder, names)
	if noSuchStep(err) {
		return nil
	}
	if err != nil {
		return err
	}
	for name := range strings.SplitSeq(string(names[:n]), "\x00") {
		if name != "" && !strings.HasPrefix(name, "security.") {
			return errors.New("has attributes of its own")
		}
	}
	return nil
}
