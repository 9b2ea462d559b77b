package survey

import (
	"encoding/csv"
	"errors"
	"fmt"
	"strings"

	"github.com/geocoris/geocoris/internal/files/spreadsheet"
)

// cutter cuts text into rows of cells. Lines without a quote, nearly all of a long
// table, are cut where they stand, their cells being parts of the text; from one
// with a quote on, encoding/csv reads until the next line that has none.
type cutter struct {
	text      string // what is still to be cut
	line      int    // of its first line
	delimiter string
	cells     []string // room for cells of rows to come
}

// readRows takes the rows of a text that has line feeds alone.
func (t *table) readRows(text string, delimiter rune, limits Limits, knows knower) error {
	cut := cutter{text: text, line: 1, delimiter: string(delimiter)}
	t.Rows = make([]row, 0, min(limits.Rows, 1+strings.Count(text, "\n")))
	for cut.text != "" {
		if cut.quoted() {
			if err := t.readQuoted(&cut, limits, knows); err != nil {
				return err
			}
			continue
		}
		line := cut.line
		if err := t.take(line, cut.plain(), limits, knows); err != nil {
			return err
		}
	}
	return nil
}

// take adds a row, without the apostrophes that keep formulas off: until the header is found, to those that may stand above it.
func (t *table) take(line int, cells []string, limits Limits, knows knower) error {
	for i := range cells {
		cells[i] = spreadsheet.Text(cells[i])
	}
	switch {
	case empty(cells): // spreadsheets leave such rows at the end
	case len(t.Header) == 0:
		t.offer(row{Line: line, Cells: cells}, knows)
	case len(t.Rows) >= limits.Rows:
		return fmt.Errorf("more than %d rows: is this a table of counts?", limits.Rows)
	default:
		t.Rows = append(t.Rows, row{Line: line, Cells: cells})
	}
	return nil
}

// next is the next line, with its line feed if it has one.
func (c *cutter) next() string {
	if i := strings.IndexByte(c.text, '\n'); i >= 0 {
		return c.text[:i+1]
	}
	return c.text
}

// quoted reports whether the next line has a quote.
func (c *cutter) quoted() bool { return strings.IndexByte(c.next(), '"') >= 0 }

// roomAtOnce is for how many cells room is made at a time.
const roomAtOnce = 1 << 12

// plain cuts the next line, which has no quote.
func (c *cutter) plain() []string {
	line := c.next()
	c.text = c.text[len(line):]
	c.line++
	line = strings.TrimSuffix(line, "\n")
	if n := 1 + strings.Count(line, c.delimiter); n > len(c.cells) {
		c.cells = make([]string, max(n, roomAtOnce))
	}
	n := 0
	for {
		i := strings.IndexByte(line, c.delimiter[0])
		if i < 0 {
			break
		}
		c.cells[n], line = line[:i], line[i+1:]
		n++
	}
	c.cells[n] = line
	cells := c.cells[: n+1 : n+1]
	c.cells = c.cells[n+1:]
	return cells
}

// readQuoted takes rows from the next line on, until after one comes a line
// without a quote.
func (t *table) readQuoted(cut *cutter, limits Limits, knows knower) error {
	text, before := cut.text, cut.line-1
	r := csv.NewReader(strings.NewReader(text))
	r.Comma, r.FieldsPerRecord = []rune(cut.delimiter)[0], -1
	for cut.text != "" && cut.quoted() {
		cells, err := r.Read()
		if err == nil {
			line, _ := r.FieldPos(0)
			err = t.take(before+line, cells, limits, knows)
		} else if bare := t.bare(err, text[len(text)-len(cut.text):r.InputOffset()], cut.delimiter); bare != nil {
			err = t.takeBare(before+1+strings.Count(text[:len(text)-len(cut.text)], "\n"), bare, limits, knows)
		} else {
			err = t.broken(err, before)
		}
		if err != nil {
			return err
		}
		cut.text = text[r.InputOffset():]
	}
	cut.line = 1 + before + strings.Count(text[:len(text)-len(cut.text)], "\n")
	return nil
}

// bare are the cells of a line with a quote within a cell that has none before it, such as
// 5" tall: it parts no cells where these are as many as the header has; nil else.
func (t *table) bare(err error, line, delimiter string) []string {
	if !errors.Is(err, csv.ErrBareQuote) {
		return nil
	}
	if cells := strings.Split(strings.TrimSuffix(line, "\n"), delimiter); len(cells) == len(t.Header) {
		return cells
	}
	return nil
}

// takeBare adds such a row.
func (t *table) takeBare(line int, cells []string, limits Limits, knows knower) error {
	t.doubts = append(t.doubts, Problem{File: t.File, Line: line}.doubt("a stray quote is read as it stands", "double the quote, or take it out"))
	return t.take(line, cells, limits, knows)
}

// broken sets a row with stray quotes aside; lines are counted after those before.
// A quote that never closes has swallowed the rows after it, so then the file
// cannot be read.
func (t *table) broken(err error, before int) error {
	var parse *csv.ParseError
	if !errors.As(err, &parse) {
		return err
	}
	if len(t.Header) == 0 || parse.Line > parse.StartLine {
		return fmt.Errorf("line %d: a quote opens and never closes; close it or take it out", before+parse.StartLine)
	}
	p := Problem{File: t.File, Line: before + parse.StartLine}.refuse(
		"a stray quote: the cells cannot be separated", "double the quote, or take it out")
	t.Broken, t.Unread = append(t.Broken, p), append(t.Unread, noCells(p))
	return nil
}
