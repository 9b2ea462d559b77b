package geofile

import (
	"bytes"
	"io"
	"os"
	"path/filepath"
	"strings"

	"github.com/geocoris/geocoris/internal/files/gpkg"
)

// A Source is a file in memory, with what its reader needs of the files beside it.
type Source struct {
	Name    string // the path or name it was asked for by
	Content []byte
	// Beside are the files of the same name beside a .shp, by their extensions in
	// small letters: .dbf, .cpg, .prj.
	Beside map[string][]byte
	// Unfinished is the name of a file beside a database that holds a part of it;
	// "" for none. Such a database is refused.
	Unfinished string
}

// Base is the name without folders, as messages give it.
func (s Source) Base() string { return filepath.Base(s.Name) }

// Load takes a file into memory, up to one byte beyond most, so that its reader can
// tell that it is too large; of a Shapefile, the files beside it too. A pipe is read
// once. Errors are those of the file system.
func Load(path string, most int64) (Source, error) {
	f, err := os.Open(path)
	if err != nil {
		return Source{}, err
	}
	defer f.Close()
	s := Source{Name: path}
	if s.Content, err = ReadUpTo(f, most); err != nil {
		return Source{}, err
	}
	switch {
	case strings.EqualFold(filepath.Ext(path), ".shp"):
		s.Beside, err = loadBeside(path, most)
	case gpkg.Is(s.Content):
		s.Unfinished = unfinished(path)
	}
	return s, err
}

// ReadUpTo reads all of r, but no more than one byte beyond most. Where the size is
// known the room for it is made once; a reader that tells a wrong one is read to its
// end all the same.
func ReadUpTo(r io.Reader, most int64) ([]byte, error) {
	var size int64
	switch r := r.(type) {
	case interface{ Len() int }:
		size = int64(r.Len())
	case *os.File:
		if about, err := r.Stat(); err == nil && about.Mode().IsRegular() {
			size = about.Size()
		}
	}
	var b bytes.Buffer
	b.Grow(int(max(0, min(size, most))) + bytes.MinRead)
	_, err := b.ReadFrom(io.LimitReader(r, most+1))
	return b.Bytes(), err
}

func loadBeside(path string, most int64) (map[string][]byte, error) {
	stem := strings.TrimSuffix(path, filepath.Ext(path))
	parts := map[string][]byte{}
	for _, extension := range []string{".dbf", ".cpg", ".prj"} {
		for _, spelt := range []string{extension, strings.ToUpper(extension)} {
			f, err := os.Open(stem + spelt)
			if err != nil {
				continue
			}
			content, err := ReadUpTo(f, most)
			f.Close()
			if err != nil {
				return nil, err
			}
			parts[extension] = content
			break
		}
	}
	return parts, nil
}

// DecodeSource reads features from a file in memory. Errors are *[Error]s.
func DecodeSource(s Source, limits Limits) (Collection, error) {
	limits = limits.withDefaults()
	if s.Unfinished != "" {
		return Collection{}, pending(s.Unfinished[:strings.LastIndex(s.Unfinished, "-")], s.Unfinished)
	}
	if s.Beside == nil {
		return decode(s.Base(), s.Content, limits)
	}
	return s.decodeShapefile(limits)
}

func (s Source) decodeShapefile(limits Limits) (Collection, error) {
	parts := shapefile{shp: s.Content, dbf: s.Beside[".dbf"], cpg: s.Beside[".cpg"], prj: s.Beside[".prj"]}
	stem := strings.TrimSuffix(s.Base(), filepath.Ext(s.Base()))
	for extension, content := range map[string][]byte{filepath.Ext(s.Base()): parts.shp, ".dbf": parts.dbf, ".cpg": parts.cpg, ".prj": parts.prj} {
		if int64(len(content)) > limits.Bytes {
			return Collection{}, &Error{File: stem + extension, Msg: "more than " + size(limits.Bytes)}
		}
	}
	c, err := parts.decode(limits)
	if c.Name = s.Base(); err != nil {
		return Collection{}, named(c.Name, err)
	}
	return c, nil
}
