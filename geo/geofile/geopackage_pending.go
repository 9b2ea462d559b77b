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

// unfinished names the file beside a database in which a part of it stands: rows
// that were added but not yet put in, or a change that was broken off; "" for none.
// Such files are not read along: the digests of a run and a season keep the one file
// that was named, and a copy of two that a program is writing to may be of neither
// state.
func unfinished(path string) string {
	if resolved, err := filepath.EvalSymlinks(path); err == nil {
		path = resolved
	}
	if about, err := os.Stat(path + "-wal"); err == nil && about.Size() > 0 {
		return filepath.Base(path) + "-wal"
	}
	journal, err := os.Open(path + "-journal")
	if err != nil {
		return "" // there is none
	}
	defer journal.Close()
	head := make([]byte, len(journalMagic))
	if _, err := io.ReadFull(journal, head); err == nil && bytes.Equal(head, journalMagic) {
		return filepath.Base(path) + "-journal"
	}
	return ""
}

func pending(name, part string) error {
	return &Error{File: name, Msg: fmt.Sprintf("a part of it still stands in %s", part),
		Hint: "close the program that has it open; if none has, open the file in one and close it again"}
}
