package geofile

import (
	"archive/zip"
	"fmt"
	"io"
	"path"
	"strings"

	"github.com/geocoris/geocoris/internal/files/archive"
)

// decodeArchive reads a zip archive: a Shapefile if it holds one, else KML.
func decodeArchive(data []byte, limits Limits) (Collection, error) {
	a, err := openArchive(data, limits)
	if err != nil {
		return Collection{}, err
	}
	for _, name := range a.order {
		if strings.EqualFold(path.Ext(name), ".shp") {
			return decodeZippedShapefile(a, name, limits)
		}
	}
	return decodeKMZ(a, limits)
}

// contents are those of a zip archive that was found whole and safe to read.
type contents struct {
	files  map[string]*zip.File
	order  []string
	limit  int64 // bytes that may be unpacked in all
	budget int64 // bytes that may still be unpacked
	ratio  uint64
}

func openArchive(data []byte, limits Limits) (*contents, error) {
	z, err := archive.Open(data)
	if err != nil {
		return nil, &Error{Msg: "is no zip archive that can be read: " + err.Error(), Hint: "save it anew"}
	}
	a := &contents{files: map[string]*zip.File{}, limit: limits.Bytes, budget: limits.Bytes, ratio: uint64(limits.ZipRatio)}
	for _, f := range z.File {
		if err := checkEntry(f); err != nil {
			return nil, err
		}
		a.files[f.Name] = f
		a.order = append(a.order, f.Name)
	}
	return a, nil
}

func checkEntry(f *zip.File) error {
	switch name := f.Name; {
	case strings.ContainsAny(name, "\\\x00") || strings.HasPrefix(name, "/") || strings.Contains(name, ":"),
		path.Clean(name) == "..", strings.HasPrefix(path.Clean(name), "../"):
		return &Error{Msg: fmt.Sprintf("holds a file named %q, which leads out of the archive", name)}
	case f.Flags&1 != 0:
		return &Error{Msg: fmt.Sprintf("%s in it is encrypted", name), Hint: "save it without a password"}
	}
	return nil
}

// read unpacks one file within what is left of the budget.
func (a *contents) read(name string) ([]byte, error) {
	f := a.files[name]
	if f.UncompressedSize64 > a.ratio*max(f.CompressedSize64, 1<<10) {
		return nil, &Error{File: name, Msg: fmt.Sprintf("unpacks to %d times its size, more than %d", f.UncompressedSize64/max(f.CompressedSize64, 1), a.ratio)}
	}
	r, err := f.Open()
	if err != nil {
		return nil, &Error{File: name, Msg: err.Error()}
	}
	defer r.Close()
	text, err := io.ReadAll(io.LimitReader(r, a.budget+1))
	if err != nil {
		return nil, &Error{File: name, Msg: err.Error()}
	}
	if a.budget -= int64(len(text)); a.budget < 0 {
		return nil, &Error{File: name, Msg: fmt.Sprintf("the archive unpacks to too much: more than %s", size(a.limit))}
	}
	return text, nil
}
