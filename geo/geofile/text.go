package geofile

import (
	"bytes"
	"io"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"
)

// toUTF8 takes a byte-order mark off, and UTF-16 to UTF-8 where a mark or the
// first character of XML or JSON tells it (XML 1.0, appendix F). Other text comes
// back as it is.
func toUTF8(data []byte) ([]byte, error) {
	switch {
	case bytes.HasPrefix(data, []byte{0xEF, 0xBB, 0xBF}):
		return data[3:], nil
	case bytes.HasPrefix(data, []byte{0xFF, 0xFE}), bytes.HasPrefix(data, []byte("<\x00")), bytes.HasPrefix(data, []byte("{\x00")):
		return unicode.UTF16(unicode.LittleEndian, unicode.UseBOM).NewDecoder().Bytes(data)
	case bytes.HasPrefix(data, []byte{0xFE, 0xFF}), bytes.HasPrefix(data, []byte("\x00<")), bytes.HasPrefix(data, []byte("\x00{")):
		return unicode.UTF16(unicode.BigEndian, unicode.UseBOM).NewDecoder().Bytes(data)
	}
	return data, nil
}

// lettersOf is JSON as UTF-8, which RFC 8259 §8.1 asks for, and what is to be said of it.
// Text that is none and has no letter of more than one byte is in one of single bytes,
// most often Windows-1252, as Latin-1 is part of it. In any other, bytes that are no
// letter stand as U+FFFD.
func lettersOf(text []byte) (letters []byte, note string) {
	if utf8.Valid(text) {
		return text, ""
	}
	for rest := text; len(rest) > 0; {
		r, n := utf8.DecodeRune(rest)
		if n > 1 && r != utf8.RuneError {
			return text, "is not in UTF-8: letters that cannot be read stand as \uFFFD"
		}
		rest = rest[n:]
	}
	letters, err := charmap.Windows1252.NewDecoder().Bytes(text)
	if err != nil {
		return text, "is not in UTF-8: letters that cannot be read stand as \uFFFD"
	}
	return letters, "is not in UTF-8: read as Windows-1252, so look at names with accents"
}

// isWhole reports whether text is the digits of a whole number.
func isWhole(text string) bool {
	digits := strings.TrimLeft(text, "+-")
	return digits != "" && strings.Trim(digits, "0123456789") == ""
}

// charsetReader serves the encoding that an XML declaration names. UTF-16 was
// turned to UTF-8 before by its byte-order mark.
func charsetReader(label string, input io.Reader) (io.Reader, error) {
	if strings.HasPrefix(strings.ToLower(label), "utf-16") {
		return input, nil
	}
	if strings.EqualFold(label, "iso-8859-1") {
		return charmap.ISO8859_1.NewDecoder().Reader(input), nil
	}
	encoding, err := encodingNamed(label)
	if err != nil {
		return nil, err
	}
	return encoding.NewDecoder().Reader(input), nil
}

// lineCounter finds the lines of offsets that mostly rise, in one pass.
type lineCounter struct {
	text   []byte
	offset int
	breaks int // before offset
}

func (c *lineCounter) at(offset int) int {
	if offset = min(offset, len(c.text)); offset < c.offset {
		c.offset, c.breaks = 0, 0
	}
	c.breaks += bytes.Count(c.text[c.offset:offset], []byte("\n"))
	c.offset = offset
	return 1 + c.breaks
}

// lineAt is the line of an offset in text, counted from 1.
func lineAt(text []byte, offset int) int {
	return 1 + bytes.Count(text[:min(offset, len(text))], []byte("\n"))
}
