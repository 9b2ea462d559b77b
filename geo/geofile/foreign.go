package geofile

import (
	"archive/zip"
	"bytes"
	"strings"

	"github.com/geocoris/geocoris/internal/files/archive"
)

// Foreign names a document that holds no features and no table that can be read, by
// how its content begins and what its archive holds: "" for any other. The word is for
// messages, with its article. Microsoft's older binary documents are compound files
// ([MS-CFB] §2.2), OpenDocument files tell their kind in the entry mimetype (OASIS
// OpenDocument 1.3 part 2, §3.3).
func Foreign(name string, data []byte) string {
	switch {
	case bytes.HasPrefix(data, []byte("%PDF")):
		return "a PDF"
	case bytes.HasPrefix(data, []byte("\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1")):
		switch {
		case hasExtension(name, ".xls"):
			return "a spreadsheet of the old form .xls"
		case hasExtension(name, ".doc"):
			return "a text document"
		}
		return "an office document of the old form (.doc or .xls)"
	case bytes.HasPrefix(data, []byte("{\\rtf")):
		return "a text document"
	case archive.Is(data):
		return foreignArchive(data)
	}
	return ""
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
