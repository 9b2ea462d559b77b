package survey

import (
	"archive/zip"
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"github.com/geocoris/geocoris/geo/geofile"
)

// Stdin is the path that stands for standard input.
const Stdin = "-"

// readTableFile reads a table from a file in whatever form its content shows: a
// spreadsheet, a feature file of points, else CSV.
func readTableFile(name, path string, opts Options) (table, error) {
	if path == Stdin {
		if opts.Stdin == nil {
			return table{}, errors.New("standard input is not at hand")
		}
		return decodeTable(name, opts.Stdin, opts)
	}
	if strings.EqualFold(filepath.Ext(path), ".shp") || isDatabase(path) { // the files beside it matter
		limits := opts.Limits.withDefaults()
		c, err := geofile.Read(path, featureLimits(limits))
		if err != nil {
			return table{}, err
		}
		var size int64
		if about, err := os.Stat(path); err == nil {
			size = about.Size()
		}
		if strings.EqualFold(filepath.Ext(path), ".shp") { // whose columns stand in another
			size = limits.Bytes
		}
		t, err := featureTable(c, name, size, limits)
		return opts.renamed(t), err
	}
	f, err := os.Open(path)
	if err != nil {
		return table{}, err
	}
	defer f.Close()
	return decodeTable(name, f, opts)
}

// isDatabase tells a GeoPackage by how it begins.
func isDatabase(path string) bool {
	f, err := os.Open(path)
	if err != nil {
		return false
	}
	defer f.Close()
	const magic = "SQLite format 3\x00"
	head := make([]byte, len(magic))
	n, _ := f.ReadAt(head, 0) // of a pipe, nothing
	return string(head[:n]) == magic
}

func decodeTable(name string, r io.Reader, opts Options) (table, error) {
	limits := opts.Limits.withDefaults()
	raw, err := readAll(r, limits.Bytes+1)
	if err != nil {
		return table{}, fmt.Errorf("%s: %w", name, err)
	}
	if int64(len(raw)) > limits.Bytes {
		return table{}, fmt.Errorf("%s: more than %s: is this a table of counts?", name, sizeOf(limits.Bytes))
	}
	t, err := readForm(name, raw, opts)
	return opts.renamed(t), err
}

// readAll reads most bytes at the most. Where the size is known the room for them
// is made once; a reader that tells a wrong one is read to its end all the same.
func readAll(r io.Reader, most int64) ([]byte, error) {
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
	_, err := b.ReadFrom(io.LimitReader(r, most))
	return b.Bytes(), err
}

// readForm goes by the content: files are often misnamed.
func readForm(name string, raw []byte, opts Options) (table, error) {
	limits := opts.Limits.withDefaults()
	switch {
	case isWorkbook(raw):
		return workbookTable(name, raw, opts)
	case isFeatures(raw):
		c, err := geofile.Decode(name, bytes.NewReader(raw), featureLimits(limits))
		if err != nil {
			return table{}, err
		}
		return featureTable(c, name, unpackedSize(raw), limits)
	}
	return decodeCSV(name, raw, opts)
}

// unpackedSize is about what a file has to tell: rows alike pack well.
func unpackedSize(raw []byte) int64 {
	if bytes.HasPrefix(raw, []byte("PK\x03\x04")) {
		return 10 * int64(len(raw))
	}
	return int64(len(raw))
}

func featureLimits(l Limits) geofile.Limits {
	return geofile.Limits{Bytes: l.Bytes, Features: l.Rows}
}

// isWorkbook tells a spreadsheet from other archives by the folder that each has.
func isWorkbook(raw []byte) bool {
	if !bytes.HasPrefix(raw, []byte("PK\x03\x04")) {
		return false
	}
	z, err := zip.NewReader(bytes.NewReader(raw), int64(len(raw)))
	if err != nil {
		return false
	}
	for _, f := range z.File {
		if strings.HasPrefix(f.Name, "xl/") {
			return true
		}
	}
	return false
}

// isFeatures tells feature files by how they begin; no header of a table does.
func isFeatures(raw []byte) bool {
	head := bytes.TrimLeft(raw[:min(len(raw), 512)], "\xef\xbb\xbf\xff\xfe\x00 \t\r\n")
	for _, start := range []string{"PK\x03\x04", "SQLite format 3", "{", "\x1e", "<", "\x27\x0a"} {
		if bytes.HasPrefix(head, []byte(start)) {
			return true
		}
	}
	return false
}

// renamed gives the columns the names that the options say, and blanks what they
// say is missing.
func (o Options) renamed(t table) table {
	t.blanked(o.Missing)
	for i, h := range t.Header {
		for from, to := range o.Rename {
			if same(h) == same(from) {
				t.Header[i] = to
			}
		}
	}
	return t
}
