package survey

import (
	"archive/zip"
	"bytes"
	"fmt"
	"strings"

	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/files/archive"
)

// readTable reads a table from a file in whatever form its content shows: a
// spreadsheet, a feature file of points, else CSV. name stands for it in messages.
func readTable(name string, from geofile.Source, opts Options) (table, error) {
	limits := opts.Limits.withDefaults()
	if int64(len(from.Content)) > limits.Bytes {
		return table{}, fmt.Errorf("%s: more than %s: is this a table of counts?", name, sizeOf(limits.Bytes))
	}
	t, err := readForm(name, from, opts)
	if err == nil {
		err = t.correct(opts.Corrections)
	}
	t = opts.renamed(t)
	if err == nil && opts.Places != nil {
		err = t.place(opts.Places, opts.taken, opts.knows)
	}
	return t, err
}

// readForm goes by the content: files are often misnamed.
func readForm(name string, from geofile.Source, opts Options) (table, error) {
	limits, raw := opts.Limits.withDefaults(), from.Content
	switch {
	case isWorkbook(raw):
		return workbookTable(name, raw, opts)
	case geofile.Foreign(name, raw) != "":
		return table{}, &geofile.Error{File: name, Msg: "is " + geofile.Foreign(name, raw) + ", not a table that can be read", Hint: "save the table as CSV or .xlsx, or give " + geofile.Formats}
	case from.Beside != nil, geofile.IsFeatures(raw):
		c, err := geofile.DecodeSource(from, featureLimits(limits))
		if err != nil {
			return table{}, err
		}
		size := unpackedSize(raw)
		if from.Beside != nil { // whose columns stand in another file
			size = limits.Bytes
		}
		return featureTable(c, name, size, limits)
	}
	return decodeCSV(name, raw, opts)
}

// unpackedSize is about what a file has to tell: rows alike pack well.
func unpackedSize(raw []byte) int64 {
	if archive.Is(raw) {
		return 10 * int64(len(raw))
	}
	return int64(len(raw))
}

func featureLimits(l Limits) geofile.Limits {
	return geofile.Limits{Bytes: l.Bytes, Features: l.Rows}
}

// isWorkbook tells a spreadsheet from other archives by the folder that each has.
func isWorkbook(raw []byte) bool {
	if !archive.Is(raw) {
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

func oneLine(text string) string { return strings.Join(strings.Fields(text), " ") }
