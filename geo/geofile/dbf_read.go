package geofile

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"strconv"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"

	"github.com/geocoris/geocoris/geo"
)

// dbfField is one column of a dBASE table.
type dbfField struct {
	name string
	kind byte
	from int // offset in a record
	size int
}

// readDBF reads the attributes of a Shapefile, one row to a shape. Numbers come
// as numbers, dates as ISO 8601, what is blank as nil. Deleted rows keep their
// place. No file gives no rows.
func readDBF(data, codepage []byte, shapes int) ([]geo.Properties, error) {
	if len(data) == 0 {
		return nil, nil
	}
	if len(data) < 32 {
		return nil, &Error{Msg: "the .dbf breaks off in its header"}
	}
	count := int(binary.LittleEndian.Uint32(data[4:]))
	header, record := int(binary.LittleEndian.Uint16(data[8:])), int(binary.LittleEndian.Uint16(data[10:]))
	text := dbfText(codepage, data[29])
	fields, err := dbfFields(data, header, text)
	if err != nil {
		return nil, err
	}
	last := fields[len(fields)-1]
	if record < last.from+last.size || header > len(data) {
		return nil, &Error{Msg: "the .dbf is not laid out as its header says"}
	}
	rows := make([]geo.Properties, 0, min(count, shapes))
	for i := range min(count, shapes) {
		from := header + i*record
		if from+record > len(data) {
			return nil, &Error{Msg: fmt.Sprintf("the .dbf breaks off at row %d of %d", i+1, count)}
		}
		var props geo.Properties
		for _, f := range fields {
			cell := data[from+f.from : from+f.from+f.size]
			props = append(props, geo.Property{Name: f.name, Value: dbfValue(f.kind, text(cell))})
		}
		rows = append(rows, props)
	}
	return rows, nil
}

func dbfFields(data []byte, header int, text func([]byte) string) ([]dbfField, error) {
	var fields []dbfField
	from := 1 // after the mark of deletion
	for at := 32; at+32 <= min(header, len(data)) && data[at] != 0x0D; at += 32 {
		name, _, _ := bytes.Cut(data[at:at+11], []byte{0})
		f := dbfField{name: text(name), kind: data[at+11], from: from, size: int(data[at+16])}
		from += f.size
		fields = append(fields, f)
	}
	if len(fields) == 0 {
		return nil, &Error{Msg: "the .dbf has no columns"}
	}
	return fields, nil
}

// dbfText returns the reader of the table's text: what the .cpg names, else what
// the language byte means, else UTF-8 where it is that and Windows-1252 where
// not.
func dbfText(codepage []byte, language byte) func([]byte) string {
	var from encoding.Encoding
	switch name := strings.TrimSpace(string(codepage)); {
	case name != "":
		if _, err := strconv.Atoi(name); err == nil {
			name = "windows-" + name
		}
		from, _ = encodingNamed(name)
	case language == 0x57 || language == 0x03:
		from = charmap.Windows1252
	}
	return func(cell []byte) string {
		cell = bytes.Trim(cell, " \x00")
		if from != nil {
			if out, err := from.NewDecoder().Bytes(cell); err == nil {
				return string(out)
			}
		}
		if utf8.Valid(cell) {
			return string(cell)
		}
		out, _ := charmap.Windows1252.NewDecoder().Bytes(cell)
		return string(out)
	}
}

func dbfValue(kind byte, text string) any {
	switch {
	case text == "" || strings.Trim(text, "*") == "": // stars fill what did not fit
		return nil
	case kind == 'N' || kind == 'F':
		if i, err := strconv.ParseInt(text, 10, 64); err == nil {
			return i
		}
		if isWhole(text) {
			return text
		}
		if f, err := strconv.ParseFloat(text, 64); err == nil {
			return f
		}
	case kind == 'L':
		return strings.ContainsAny(text, "TtYy")
	case kind == 'D' && len(text) == 8:
		return text[:4] + "-" + text[4:6] + "-" + text[6:]
	}
	return text
}
