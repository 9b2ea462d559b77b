// Package geofile reads and writes feature files: the one place that knows any
// file format for geometry. Between files and the rest of the program stand
// [geo.Feature]s, whatever the format.
//
// Coordinates are degrees on WGS 84, longitude before latitude. Readers accept
// what is found in practice where its meaning is plain, say in the notes what
// they passed over, and refuse what could be read in two ways. Writers refuse
// to write what a reader of ours would not accept.
package geofile

import (
	"bytes"
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/files/archive"
	"github.com/geocoris/geocoris/internal/files/gpkg"
)

// Limits bound what is read, so that no file can take the machine's memory. Zero
// fields mean the defaults.
type Limits struct {
	Bytes    int64 // of a file, and of what an archive unpacks to; 64 MiB
	Features int   // 200,000
	Vertices int   // 5,000,000
	Depth    int   // of nesting; 64
	ZipRatio int   // unpacked to packed size of an entry; 200
}

func (l Limits) withDefaults() Limits {
	set := func(v *int, to int) {
		if *v == 0 {
			*v = to
		}
	}
	if l.Bytes == 0 {
		l.Bytes = 64 << 20
	}
	set(&l.Features, 200_000)
	set(&l.Vertices, 5_000_000)
	set(&l.Depth, 64)
	set(&l.ZipRatio, 200)
	return l
}

// A Collection is what a file holds.
type Collection struct {
	Name     string // of the file
	Format   string // GeoJSON, KML, KMZ, GPX, Shapefile, GeoPackage
	Features []geo.Feature
	Notes    []string // what was passed over, each one line
}

// An Error says where a file cannot be read and how to fix it.
type Error struct {
	File    string
	Line    int // counted from 1; 0 where not known
	Feature int // counted from 1; 0 where it is about the file
	Msg     string
	Hint    string // "" where none is known
}

// Error is the message on one line, the hint left out.
func (e *Error) Error() string {
	at := e.File
	if e.Line > 0 {
		at = fmt.Sprintf("%s:%d", at, e.Line)
	}
	if e.Feature > 0 {
		return fmt.Sprintf("%s: feature %d: %s", at, e.Feature, e.Msg)
	}
	return fmt.Sprintf("%s: %s", at, e.Msg)
}

// format is a way to write features down.
type format struct {
	name       string
	extensions []string
	looksLike  func(head []byte) bool
	decode     func(data []byte, limits Limits) (Collection, error)
}

// formats are known in this order. A new one needs a row here and a reader of
// the same form.
var formats = [...]format{
	{"GeoPackage", []string{".gpkg"}, gpkg.Is, decodeGeoPackage},
	{"Shapefile", []string{".shp"}, begins("\x00\x00\x27\x0a"), decodeBareShapefile},
	{"KMZ", []string{".kmz", ".zip"}, archive.Is, decodeArchive},
	{"GPX", []string{".gpx"}, looksLikeGPX, decodeGPX},
	{"KML", []string{".kml"}, begins("<"), decodeKML},
	{"GeoJSON", []string{".geojson", ".json", ".geojsons", ".geojsonl", ".ndjson"}, func(h []byte) bool { return begins("{")(h) || begins("\x1e")(h) }, decodeGeoJSON},
}

func begins(with string) func([]byte) bool {
	return func(head []byte) bool { return bytes.HasPrefix(head, []byte(with)) }
}

// giveFormats is the hint of every refusal of a format.
const giveFormats = "give " + Formats

// Read reads a feature file whole; of a Shapefile, the files beside it too. A
// GeoPackage with changes that still stand in files beside it is an error.
// Errors are *[Error]s but for those of the file system.
func Read(path string, limits Limits) (Collection, error) {
	s, err := Load(path, limits.withDefaults().Bytes)
	if err != nil {
		return Collection{}, err
	}
	return DecodeSource(s, limits)
}

// Decode reads features from r; name stands for it in messages, and its
// extension tells the format where the content does not.
func Decode(name string, r io.Reader, limits Limits) (Collection, error) {
	limits = limits.withDefaults()
	data, err := ReadUpTo(r, limits.Bytes)
	if err != nil {
		return Collection{}, &Error{File: name, Msg: err.Error()}
	}
	return decode(name, data, limits)
}

func decode(name string, data []byte, limits Limits) (Collection, error) {
	if int64(len(data)) > limits.Bytes {
		return Collection{}, &Error{File: name, Msg: fmt.Sprintf("more than %s", size(limits.Bytes))}
	}
	if what, features := foreign(name, data); what != "" {
		why := ", which holds no outlines and no points"
		if features {
			why = ", which is not read"
		}
		return Collection{}, &Error{File: name, Msg: "is " + what + why, Hint: giveFormats}
	}
	f, err := formatOf(name, data)
	if err != nil {
		return Collection{}, err
	}
	c, err := f.decode(data, limits)
	for i := range c.Notes {
		c.Notes[i] = oneLine(c.Notes[i])
	}
	if c.Name = name; c.Format == "" {
		c.Format = f.name
	}
	if err != nil {
		return Collection{}, named(name, err)
	}
	return c, nil
}

// named puts a file's name into an error.
func named(name string, err error) error {
	e, ok := err.(*Error)
	if !ok {
		e = &Error{Msg: err.Error()}
	}
	e.Msg = oneLine(e.Msg)
	e.File = strings.TrimSuffix(name+"/"+e.File, "/")
	return e
}

// oneLine serves words with names from a file in them, which may hold anything.
func oneLine(text string) string { return strings.Join(strings.Fields(text), " ") }

// IsFeatures reports whether a file is one of features by how it begins. Tables begin
// otherwise; archives are looked at no closer, see [Foreign].
func IsFeatures(data []byte) bool {
	_, ok := formatBy(data)
	return ok
}

// formatBy goes by the content.
func formatBy(data []byte) (f format, ok bool) {
	head := data[:min(len(data), 512)]
	if text, _ := toUTF8(head); text != nil {
		head = bytes.TrimLeft(text, " \t\r\n")
	}
	for _, f := range formats {
		if f.looksLike(head) {
			return f, true
		}
	}
	return format{}, false
}

// formatOf goes by the content first: files are often misnamed.
func formatOf(name string, data []byte) (format, error) {
	if f, ok := formatBy(data); ok {
		return f, nil
	}
	extension := strings.ToLower(filepath.Ext(name))
	for _, f := range formats {
		for _, e := range f.extensions {
			if e == extension {
				return f, nil
			}
		}
	}
	return format{}, &Error{File: name, Msg: "is none of the known formats", Hint: giveFormats}
}

func size(n int64) string {
	if n < 1<<20 {
		return fmt.Sprintf("%d bytes", n)
	}
	return fmt.Sprintf("%d MiB", n>>20)
}
