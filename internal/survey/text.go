package survey

import (
	"bytes"
	"fmt"
	"io"
	"unicode/utf8"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"
)

// readText returns a file's text in UTF-8 with line feeds, whatever it was
// written in: UTF-8 with or without a byte-order mark, UTF-16 with one, else
// Windows-1252, of which ISO 8859-1 is a part; note says when it was the last.
func readText(r io.Reader, limit int64) (text []byte, note string, err error) {
	raw, err := io.ReadAll(io.LimitReader(r, limit+1))
	if err != nil {
		return nil, "", err
	}
	if int64(len(raw)) > limit {
		return nil, "", fmt.Errorf("more than %s: is this a table of counts?", sizeOf(limit))
	}
	if bytes.HasPrefix(raw, []byte("PK\x03\x04")) {
		return nil, "", fmt.Errorf("is a workbook or an archive: save the table as CSV")
	}
	switch {
	case bytes.HasPrefix(raw, []byte{0xEF, 0xBB, 0xBF}):
		text = raw[3:]
	case bytes.HasPrefix(raw, []byte{0xFF, 0xFE}), bytes.HasPrefix(raw, []byte{0xFE, 0xFF}):
		text, err = decode(unicode.UTF16(unicode.LittleEndian, unicode.UseBOM), raw)
	case !utf8.Valid(raw):
		text, err = decode(charmap.Windows1252, raw)
		note = "not UTF-8: read as Windows-1252"
	default:
		text = raw
	}
	if bytes.IndexByte(text, 0) >= 0 {
		return nil, "", fmt.Errorf("holds bytes that no text has: want a CSV file")
	}
	text = bytes.ReplaceAll(text, []byte("\r\n"), []byte("\n"))
	return bytes.ReplaceAll(text, []byte("\r"), []byte("\n")), note, err
}

func decode(from encoding.Encoding, raw []byte) ([]byte, error) {
	return from.NewDecoder().Bytes(raw)
}
