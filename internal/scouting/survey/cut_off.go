//go:build !small

package survey

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"slices"
	"strings"

	"github.com/geocoris/geocoris/geo/geofile"
)

// fullRows are how many rows with all their cells tell that the last one should have them.
const fullRows = 5

// checkEnd refuses a table without a line break at its end whose last row alone lacks cells
// and begins as the others do: it was cut off on its way, and nobody can say how much of it is
// missing. A line on who walked, or a sum below the counts, has no number or blanks before it.
//
// A last row that a stray quote set aside was cut off within a cell in quotes where one more
// quote puts it right.
func (t *table) checkEnd(text []byte, delimiter rune) error {
	end := 1 + bytes.Count(text, []byte("\n"))
	if n := len(t.Broken); n > 0 && t.Broken[n-1].Line == end && quoteOpen(string(text[1+bytes.LastIndexByte(text, '\n'):]), delimiter) {
		return &geofile.Error{
			File: t.File, Line: end, Msg: "the file ends within a cell in quotes: was it cut off?",
			Hint: "copy it again; if it is whole, close the quote or take it out",
		}
	}
	last := len(t.Rows) - 1
	if last < fullRows {
		return nil
	}
	width := len(t.Rows[0].Cells)
	for _, r := range t.Rows[:last] {
		if len(r.Cells) < width {
			return nil
		}
	}
	r := t.Rows[last]
	if len(r.Cells) >= width || slices.Contains(r.Cells[:len(r.Cells)-1], "") || !slices.ContainsFunc(r.Cells, isDecimal) || namesSum(r.Cells[0]) {
		return nil
	}
	return &geofile.Error{
		File: t.File, Line: r.Line, Msg: fmt.Sprintf("the file ends after %d of the %d cells of this row: was it cut off?", len(r.Cells), width),
		Hint: "copy it again; if it is whole, fill the row up or end it with a line break",
	}
}

// quoteOpen reports whether a row that cannot be cut into cells can be once it ends in a quote.
func quoteOpen(row string, delimiter rune) bool {
	r := csv.NewReader(strings.NewReader(row + `"`))
	r.Comma = delimiter
	_, err := r.Read()
	return err == nil
}

// isDecimal reports whether a cell is a number, with a decimal point or comma.
func isDecimal(cell string) bool {
	return isPlain(strings.Replace(strings.TrimSpace(cell), ",", ".", 1))
}
