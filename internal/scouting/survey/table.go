package survey

import (
	"bytes"
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// table is a file cut into cells, not yet understood. Every source of rows comes
// to this form.
type table struct {
	File     string
	Header   []string
	Rows     []row
	Broken   []Problem // rows that could not be cut into cells
	Unread   []Unread  // of these, those that may be counts
	doubts   []Problem // rows that were cut into cells nevertheless
	planned  []Unread  // likewise, those that may be planned stops that were not walked
	Notes    []string
	above    []row // filled, and perhaps above the header, until it is found
	skipped  []row // above the header
	headLine int

	typed map[cellAt]bool // of a spreadsheet: numbers typed as text; nil else
	odd   map[cellAt]odd  // of a spreadsheet: cells that are not what they look like
	// DecimalComma is set where commas do not part cells and so may stand in
	// numbers.
	DecimalComma bool
	Delimited    bool         // by commas, semicolons or tabs
	Points       string       // what a feature file calls its points; "" for a table
	bounds       [2]int       // columns of the bounds that map wrote beside counts, from 1; zero for none
	outlines     bool         // its features are ground, all of them
	bareUnits    bool         // the numbers in these say on how many was counted, and never of what
	spoken       string       // the property whose words were read, into columns of their own; "" for none
	corrected    []Correction // cells that were corrected
	parted       parted       // the column that was made two
	unplaced     bool         // positions may stand in a file of places
	// StrictUTC is set where a time that says so is in UTC, by the standard of the
	// format; BareUTC where one in the column time that does not say so is too.
	StrictUTC, BareUTC bool
}

// cellAt is a place in a table: its line and the position of its column from 0.
type cellAt struct{ line, column int }

// native says whether a cell is a number as a spreadsheet stores them, for which the
// signs that people type mean nothing.
func (t *table) native(line, column int) bool {
	return t.typed != nil && !t.typed[cellAt{line, column}]
}

// A parted column of a file is two in its table, this and the one behind it; the zero value is none.
type parted struct {
	column         int // from 1
	header         string
	longitudeFirst bool
	cells          map[int]string // as they stand in the file, by their lines
}

// A OneCell is a column of a file whose cells hold both angles of a place.
type OneCell struct {
	Header        string // in the file
	LatitudeFirst bool   // so most of its cells have them
}

func (s *Survey) keepOneCell(t table) {
	if t.parted.column == 0 {
		return
	}
	if s.OneCell == nil {
		s.OneCell = map[string]OneCell{}
	}
	s.OneCell[t.File] = OneCell{Header: t.parted.header, LatitudeFirst: !t.parted.longitudeFirst}
}

// noPair stands before what is no two angles, in both columns, so that it is read as none.
const noPair = "? "

// holds reports whether a column of the table, from 0, is one of the two.
func (p parted) holds(column int) bool {
	return p.column > 0 && (column == p.column-1 || column == p.column)
}

// written is the header as it stands in the file.
func (t *table) written() []string {
	if t.parted.column == 0 {
		return t.Header
	}
	header := slices.Delete(slices.Clone(t.Header), t.parted.column, t.parted.column+1)
	header[t.parted.column-1] = t.parted.header
	return header
}

// asWritten is how many cells so many are in the file.
func (t *table) asWritten(cells int) int {
	if t.parted.column > 0 && cells > t.parted.column {
		return cells - 1
	}
	return cells
}

type row struct {
	Line  int
	Cells []string
}

// decodeCSV reads CSV (RFC 4180) parted by comma, semicolon or tab, whichever
// the header holds most of outside quotes. The columns of the options stand for a
// header that the file has not.
func decodeCSV(name string, raw []byte, opts Options) (table, error) {
	limits, knows := opts.Limits.withDefaults(), knower(opts.knows)
	text, note, err := readText(raw)
	if err != nil {
		return table{}, fmt.Errorf("%s: %w", name, err)
	}
	t := table{File: name, Header: opts.Columns, unplaced: opts.Places != nil}
	if note != "" {
		t.Notes = append(t.Notes, fmt.Sprintf("%s: %s", name, note))
	}
	delimiter, text := sniff(text, knows)
	if err := checkShape(text, delimiter, limits); err != nil {
		return table{}, fmt.Errorf("%s: %w", name, err)
	}
	t.Delimited, t.DecimalComma = true, delimiter != ','
	if err := t.readRows(string(text), delimiter, limits, knows); err != nil {
		return table{}, fmt.Errorf("%s: %w", name, err)
	}
	t.settle(knows)
	t.saySkipped()
	if len(t.Header) == 0 {
		return table{}, fmt.Errorf("%s: is empty: want a header line and a row for each count", name)
	}
	if opts.Incoming && !bytes.HasSuffix(text, []byte("\n")) {
		err = t.checkEnd(text, delimiter)
	}
	return t, err
}

func empty(cells []string) bool {
	for _, c := range cells {
		if strings.TrimSpace(c) != "" {
			return false
		}
	}
	return true
}

// separatorLine is how some spreadsheets name the delimiter on the first line.
var separatorLine = pattern(`(?i)^"?sep=([,;\t])"?[ ,;\t]*$`)

// sniff finds the delimiter: that of the first line which names columns when it is
// cut so, else that of the first line that is not blank. A line that names it is
// blanked, so that lines keep their numbers.
func sniff(text []byte, knows knower) (delimiter rune, rest []byte) {
	line, rest, _ := bytes.Cut(text, []byte("\n"))
	if m := separatorLine().FindSubmatch(line); m != nil {
		return rune(m[1][0]), append([]byte("\n"), rest...)
	}
	first, pair, most := rune(0), rune(0), 0
	for rest, seen := text, 0; len(rest) > 0 && seen <= mostAbove; {
		line, rest, _ = bytes.Cut(rest, []byte("\n"))
		if len(bytes.TrimSpace(line)) == 0 {
			continue
		}
		seen++
		line = line[:min(len(line), longestHeader)]
		best := mostOf(line)
		if first == 0 {
			first = best
		}
		cells := strings.Split(string(line), string(best))
		if knows.names(cells) {
			return best, text
		}
		if n := knows.namesPair(cells); n > most {
			pair, most = best, n
		}
	}
	return cmp.Or(pair, first, ','), text
}

// longestHeader is how much of a line is looked at for its delimiter, in bytes.
const longestHeader = 1 << 16

// mostOf is the delimiter that a line holds most of outside quotes.
func mostOf(line []byte) rune {
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
	return best
}
