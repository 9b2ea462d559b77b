package geofile

import (
	"archive/zip"
	"bytes"
	"slices"
	"strings"

	"github.com/geocoris/geocoris/internal/files/archive"
)

// Foreign names a document that is read neither as features nor as a table, by how its
// content begins and what its archive holds: "" for any other. The word is for
// messages, with its article.
func Foreign(name string, data []byte) string {
	what, _ := foreign(name, data)
	return what
}

// notRead are the beginnings of other files. A picture may tell where it was taken, but
// it outlines nothing. FlatGeobuf begins with its name and version.
var notRead = []struct {
	begins, what string
	features     bool // it may hold outlines or points
}{
	{"%PDF", "a PDF", false},
	{"{\\rtf", "a text document", false},
	{"\x89PNG", "a picture", false},
	{"\xff\xd8\xff", "a picture", false},
	{"II*\x00", "a picture (TIFF)", false},
	{"MM\x00*", "a picture (TIFF)", false},
	{"fgb\x03", "a FlatGeobuf file", true},
	{"\x1f\x8b", "a packed file (gzip)", true},
	{"7z\xbc\xaf\x27\x1c", "a packed file (7z)", true},
}

// foreign is [Foreign] with whether such a file may hold features, which are not read
// from it.
// Microsoft's older binary documents are compound files ([MS-CFB] §2.2), OpenDocument
// files tell their kind in the entry mimetype (OASIS OpenDocument 1.3 part 2, §3.3).
func foreign(name string, data []byte) (what string, features bool) {
	switch {
	case bytes.HasPrefix(data, []byte("\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1")):
		switch {
		case hasExtension(name, ".xls"):
			return "a spreadsheet of the old form .xls", false
		case hasExtension(name, ".doc"):
			return "a text document", false
		}
		return "an office document of the old form (.doc or .xls)", false
	case archive.Is(data):
		return foreignArchive(data), false
	}
	for _, other := range notRead {
		if bytes.HasPrefix(data, []byte(other.begins)) {
			return other.what, other.features
		}
	}
	if bytes.HasPrefix(data, []byte("PAR1")) && bytes.HasSuffix(data, []byte("PAR1")) {
		return "a Parquet file", true
	}
	return foreignText(data)
}

// ownTags begin files that are read, whatever schemas they name.
var ownTags = []string{"kml", "document", "folder", "placemark", "gpx"}

// foreignText tells web pages, such as a log-in that was saved in place of a file, GML
// and lists of records among texts.
func foreignText(data []byte) (what string, features bool) {
	head, _ := toUTF8(data[:min(len(data), 4<<10)])
	head = bytes.TrimSpace(head)
	if rest, is := bytes.CutPrefix(head, []byte("[")); is {
		if rest = bytes.TrimSpace(rest); len(rest) > 0 && bytes.ContainsAny(rest[:1], "{[]\"") {
			return "a list in JSON, not GeoJSON", true
		}
		return "", false
	}
	switch tag := firstTag(string(head)); {
	case tag == "html", tag == "!doctype html":
		return "a web page (HTML), such as a log-in or an error", false
	case tag != "" && !slices.Contains(ownTags, tag) && bytes.Contains(head, []byte("opengis.net/gml")):
		return "GML", true
	}
	return "", false
}

// firstTag is the name of the first tag of a text, in small letters and without prefix,
// with the word behind it where it is a declaration; "" where none begins it.
func firstTag(text string) string {
	for {
		rest, is := strings.CutPrefix(strings.TrimSpace(text), "<")
		if !is {
			return ""
		}
		end := ">"
		switch {
		case strings.HasPrefix(rest, "?"):
		case strings.HasPrefix(rest, "!--"):
			end = "-->"
		default:
			tag, _, _ := strings.Cut(rest, ">")
			words := strings.Fields(strings.ToLower(strings.TrimRight(tag, "/")))
			switch {
			case len(words) == 0:
				return ""
			case words[0] == "!doctype" && len(words) > 1:
				return words[0] + " " + words[1]
			}
			return words[0][strings.Index(words[0], ":")+1:]
		}
		var found bool
		if _, text, found = strings.Cut(rest, end); !found {
			return ""
		}
	}
}

func hasExtension(name, extension string) bool {
	return strings.HasSuffix(strings.ToLower(name), extension)
}

// foreignArchive tells documents among archives.
func foreignArchive(data []byte) string {
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return ""
	}
	for _, f := range z.File {
		switch {
		case strings.HasPrefix(f.Name, "word/"):
			return "a text document (.docx)"
		case strings.HasPrefix(f.Name, "ppt/"):
			return "a slide show"
		case strings.HasPrefix(f.Name, "xl/"):
			return "a spreadsheet (.xlsx)"
		case f.Name == "mimetype":
			return openDocument(data, f)
		}
	}
	return ""
}

// openDocument reads the kind off the bytes of the entry, which stands unpacked at the
// beginning of the file.
func openDocument(data []byte, f *zip.File) string {
	at, err := f.DataOffset()
	if err != nil || at > int64(len(data)) {
		return ""
	}
	kind := string(data[at:min(int64(len(data)), at+64)])
	switch {
	case strings.HasPrefix(kind, "application/vnd.oasis.opendocument.spreadsheet"):
		return "an OpenDocument spreadsheet (.ods)"
	case strings.HasPrefix(kind, "application/vnd.oasis.opendocument."):
		return "an OpenDocument document"
	}
	return ""
}
