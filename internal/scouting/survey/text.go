package survey

import (
	"bytes"
	"fmt"
	"unicode/utf8"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"
)

// readText returns a file's text in UTF-8 with line feeds, whatever it was
// written in: UTF-8 with or without a byte-order mark, UTF-16 with one, else
// Windows-1252, of which ISO 8859-1 is a part; note says when it was the last.
func readText(raw []byte) (text []byte, note string, err error) {
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
	text = bytes.TrimSuffix(text, []byte{0x1A}) // the end of a file to some old systems
	if bytes.IndexByte(text, '\r') >= 0 {
		text = bytes.ReplaceAll(text, []byte("\r\n"), []byte("\n"))
		text = bytes.ReplaceAll(text, []byte("\r"), []byte("\n"))
	}
	return text, note, err
}

func decode(from encoding.Encoding, raw []byte) ([]byte, error) {
	return from.NewDecoder().Bytes(raw)
}
