package geofile

import (
	"encoding/binary"
	"fmt"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/geocoris/geocoris/geo"
)

// column is one field of a dBASE table.
type column struct {
	name            string
	kind            byte // C, N or L
	width, decimals int
}

const maxTextWidth = 254

// isColumnName reports up to ten letters, digits and underscores, a letter first.
func isColumnName(name string) bool {
	for i := range len(name) {
		switch c := name[i]; {
		case c >= 'A' && c <= 'Z', c >= 'a' && c <= 'z':
		case i > 0 && (c >= '0' && c <= '9' || c == '_'):
		default:
			return false
		}
	}
	return name != "" && len(name) <= 10
}

// table renders the properties. Columns are those of all features.
func table(l Layer) ([]byte, error) {
	cells, columns, err := cells(l.Features)
	if err != nil {
		return nil, err
	}
	year, month, day := 1900, 1, 1
	if l.Date != "" {
		if _, err := fmt.Sscanf(l.Date, "%4d-%2d-%2d", &year, &month, &day); err != nil {
			return nil, &Error{File: "Shapefile", Msg: fmt.Sprintf("%q is not a date", l.Date), Hint: "want YYYY-MM-DD"}
		}
	}
	row := 1
	for _, c := range columns {
		row += c.width
	}
	b := make([]byte, 32)
	b[0], b[1], b[2], b[3] = 3, byte(year-1900), byte(month), byte(day)
	binary.LittleEndian.PutUint32(b[4:], uint32(len(l.Features)))
	binary.LittleEndian.PutUint16(b[8:], uint16(33+32*len(columns)))
	binary.LittleEndian.PutUint16(b[10:], uint16(row))
	for _, c := range columns {
		head := make([]byte, 32)
		copy(head, c.name)
		head[11], head[16], head[17] = c.kind, byte(c.width), byte(c.decimals)
		b = append(b, head...)
	}
	b = append(b, 0x0D)
	for _, row := range cells {
		b = append(b, ' ')
		for i, c := range columns {
			b = append(b, c.pad(row[i])...)
		}
	}
	return append(b, 0x1A), nil
}

// pad fills a cell to its column's width: numbers to the right.
func (c column) pad(text string) string {
	blanks := strings.Repeat(" ", c.width-len(text))
	if c.kind == 'N' {
		return blanks + text
	}
	return text + blanks
}

// columnsOf are those of all features, as they come.
func columnsOf(features []geo.Feature) (columns []column, err error) {
	seen := map[string]string{}
	for _, f := range features {
		own := map[string]bool{}
		for _, p := range f.Properties {
			upper := strings.ToUpper(p.Name)
			if seen[upper] == p.Name && !own[p.Name] {
				own[p.Name] = true
				continue
			}
			if !isColumnName(p.Name) || seen[upper] != "" {
				return nil, &Error{File: "Shapefile", Msg: fmt.Sprintf("%q cannot name a column: want 10 letters, digits or underscores, each name once", p.Name)}
			}
			seen[upper], own[p.Name] = p.Name, true
			columns = append(columns, column{name: p.Name, width: 1})
		}
	}
	return columns, nil
}

// cells renders every value as text, and the columns wide enough for them.
func cells(features []geo.Feature) ([][]string, []column, error) {
	columns, err := columnsOf(features)
	if err != nil {
		return nil, nil, err
	}
	rows := make([][]string, len(features))
	for i, f := range features {
		for k := range columns {
			v, _ := f.Properties.Get(columns[k].name)
			text, err := columns[k].take(v)
			if err != nil {
				return nil, nil, &Error{File: "Shapefile", Feature: i + 1, Msg: err.Error()}
			}
			rows[i] = append(rows[i], text)
		}
	}
	for k := range columns {
		if columns[k].kind == 0 {
			columns[k].kind = 'C' // nothing but nil
		}
	}
	return rows, columns, nil
}

// numberDecimals are kept of every number that is not whole.
const numberDecimals = 6

// take renders a value and widens the column for it.
func (c *column) take(v any) (string, error) {
	var text string
	var kind byte
	switch v := v.(type) {
	case nil:
		return "", nil
	case string:
		kind, text = 'C', cutText(v)
	case bool:
		kind, text = 'L', map[bool]string{true: "T", false: "F"}[v]
	case int64:
		kind, text = 'N', strconv.FormatInt(v, 10)
	case float64:
		kind, text, c.decimals = 'N', strconv.FormatFloat(v, 'f', numberDecimals, 64), numberDecimals
	default:
		return "", fmt.Errorf("property %q: cannot write a %T", c.name, v)
	}
	if c.kind != 0 && c.kind != kind {
		return "", fmt.Errorf("property %q is of two kinds", c.name)
	}
	c.kind, c.width = kind, max(c.width, len(text))
	if kind == 'N' && len(text) > 18 {
		return "", fmt.Errorf("property %q: %s has more than 18 places", c.name, text)
	}
	return text, nil
}

// cutText keeps what a column can hold, in whole characters and on one line.
func cutText(s string) string {
	s = strings.Join(strings.Fields(strings.ToValidUTF8(s, "?")), " ")
	if len(s) <= maxTextWidth {
		return s
	}
	s = s[:maxTextWidth]
	for !utf8.ValidString(s) {
		s = s[:len(s)-1]
	}
	return s
}
