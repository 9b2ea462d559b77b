package geofile

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"
)

// journalMagic begins a journal that is still to be played back (SQLite file
// format, 3).
var journalMagic = []byte{0xd9, 0xd5, 0x05, 0xf9, 0x20, 0xa1, 0x63, 0xd7}

// checkPending refuses a database of which a part stands in files beside it: rows
// that were added but not yet put in, or a change that was broken off. Such files
// are not read along: the digests of a run and a season keep the one file that was
// named, and a copy of two that a program is writing to may be of neither state.
func checkPending(path string) error {
	if resolved, err := filepath.EvalSymlinks(path); err == nil {
		path = resolved
	}
	if about, err := os.Stat(path + "-wal"); err == nil && about.Size() > 0 {
		return pending(path, "-wal")
	}
	journal, err := os.Open(path + "-journal")
	if err != nil {
		return nil // there is none
	}
	defer journal.Close()
	head := make([]byte, len(journalMagic))
	if _, err := io.ReadFull(journal, head); err == nil && bytes.Equal(head, journalMagic) {
		return pending(path, "-journal")
	}
	return nil
}

func pending(path, suffix string) error {
	name := filepath.Base(path)
	return &Error{File: name, Msg: fmt.Sprintf("a part of it still stands in %s%s", name, suffix),
		Hint: "close the program that has it open; if none has, open the file in one and close it again"}
}
