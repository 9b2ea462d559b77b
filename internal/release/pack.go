package main

import (
	"archive/zip"
	"bytes"
	"crypto/sha256"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"time"
)

// An entry is a file to be packed.
type entry struct {
	name    string // with / between folders
	content []byte
	run     bool // it is a program
}

func read(from, name string, run bool) (entry, error) {
	content, err := os.ReadFile(from)
	return entry{name, content, run}, err
}

// filesIn are all files in a folder and those in it.
func filesIn(folder string) (files []entry, err error) {
	err = filepath.WalkDir(folder, func(at string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		name, err := filepath.Rel(folder, at)
		if err != nil {
			return err
		}
		f, err := read(at, filepath.ToSlash(name), false)
		files = append(files, f)
		return err
	})
	return files, err
}

// pack makes a zip archive of files in one folder, in the order of their names, all of the
// first day that an archive can tell (APPNOTE 4.4.6: 1980).
func pack(folder string, files []entry) ([]byte, error) {
	files = slices.Clone(files)
	slices.SortFunc(files, func(a, b entry) int { return strings.Compare(a.name, b.name) })
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for _, f := range files {
		h := &zip.FileHeader{Name: path.Join(folder, f.name), Method: zip.Deflate, Modified: time.Date(1980, 1, 1, 0, 0, 0, 0, time.UTC)}
		h.SetMode(0o644)
		if f.run {
			h.SetMode(0o755)
		}
		w, err := z.CreateHeader(h)
		if err != nil {
			return nil, err
		}
		if _, err := w.Write(f.content); err != nil {
			return nil, err
		}
	}
	err := z.Close()
	return b.Bytes(), err
}

// writeSums writes SHA256SUMS of all files of a folder, as sha256sum --check reads it.
func writeSums(folder string) error {
	const name = "SHA256SUMS"
	files, err := os.ReadDir(folder) // by name
	if err != nil {
		return err
	}
	var b strings.Builder
	for _, f := range files {
		if f.IsDir() || f.Name() == name {
			continue
		}
		content, err := os.ReadFile(filepath.Join(folder, f.Name()))
		if err != nil {
			return err
		}
		fmt.Fprintf(&b, "%x  %s\n", sha256.Sum256(content), f.Name())
	}
	return os.WriteFile(filepath.Join(folder, name), []byte(b.String()), 0o644)
}
