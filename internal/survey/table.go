package survey

import (
	"bytes"
	"fmt"
	"regexp"
	"strings"
)

// table is a file cut into cells, not yet understood. Every source of rows comes
// to this form.
type table struct {
	File   string
	Header []string
	Rows   []row
	Broken []Problem // rows that could not be cut into cells
	Notes  []string
	// DecimalComma is set where commas do not part cells and so may stand in
	// numbers.
	DecimalComma bool
}

type row struct {
	Line  int
	Cells []string
}

// decodeCSV reads CSV (RFC 4180) parted by comma, semicolon or tab, whichever
// the header holds most of outside quotes. names stand for a header that the
// file has not.
func decodeCSV(name string, raw []byte, names []string, limits Limits) (table, error) {
	text, note, err := readText(raw)
	if err != nil {
		return table{}, fmt.Errorf("%s: %w", name, err)
	}
	t := table{File: name, Header: names}
	if note != "" {
		t.Notes = append(t.Notes, fmt.Sprintf("%s: %s", name, note))
	}
	delimiter, text := sniff(text)
	if err := checkShape(text, delimiter, limits); err != nil {
		return table{}, fmt.Errorf("%s: %w", name, err)
	}
	t.DecimalComma = delimiter != ','
	if err := t.readRows(string(text), delimiter, limits); err != nil {
		return table{}, fmt.Errorf("%s: %w", name, err)
	}
	if len(t.Header) == 0 {
		return table{}, fmt.Errorf("%s: is empty: want a header line and a row for each count", name)
	}
	return t, nil
}

func empty(cells []string) bool {
	for _, c := range cells {
		if strings.TrimSpace(c) != "" {
			return false
		}
	}
	return true
}

// told is how some spreadsheets name the delimiter on the first line.
var told = regexp.MustCompile(`(?i)^"?sep=([,;\t])"?[ ,;\t]*$`)

// sniff finds the delimiter in the first line that is not blank. A line that
// names it is blanked, so that lines keep their numbers.
func sniff(text []byte) (delimiter rune, rest []byte) {
	line, rest, _ := bytes.Cut(text, []byte("\n"))
	if m := told.FindSubmatch(line); m != nil {
		return rune(m[1][0]), append([]byte("\n"), rest...)
	}
	line, _, _ = bytes.Cut(bytes.TrimLeft(text, "\n \t"), []byte("\n"))
	best, most := ',', 0
	for _, d := range []rune{',', ';', '\t'} {
		n, quoted := 0, false
		for _, c := range string(line) {
			if c == '"' {
				quoted = !quoted
			} else if c == d && !quoted {
				n++
			}
		}
		if n > most {
			best, most = d, n
		}
	}
	return best, text
}
