package survey

import (
	"errors"
	"strings"

	"github.com/geocoris/geocoris/geo/geofile"
)

// Cells are a table cut into cells, of CSV or a spreadsheet, that is no table of counts:
// a list of fields, of corrections, of places.
type Cells struct {
	File         string
	Header       []string
	Rows         []CellRow
	DecimalComma bool     // a comma may stand in a number
	Notes        []string // how it was read
	Features     bool     // they are properties of features, of which most are for others
}

// A CellRow is a row of cells and its line in the file. It may have fewer cells than the
// header.
type CellRow struct {
	Line  int
	Cells []string
}

// ReadCells cuts a table as counts are cut. Rows that cannot be cut are an error that
// names the first.
func ReadCells(from geofile.Source) (Cells, error) {
	t, err := readTable(from.Base(), from, Options{bare: true})
	if err != nil {
		return Cells{}, err
	}
	if len(t.Broken) > 0 {
		return Cells{}, errors.New(t.Broken[0].String())
	}
	c := Cells{File: t.File, Header: t.Header, DecimalComma: t.DecimalComma, Notes: t.Notes}
	for _, r := range t.Rows {
		if !empty(r.Cells) {
			c.Rows = append(c.Rows, CellRow(r))
		}
	}
	return c, nil
}

// Column is the place of the first column that has one of some names, without regard to
// case, spaces and underscores; -1 for none.
func (c Cells) Column(names ...string) int {
	for i, h := range c.Header {
		for _, name := range names {
			if same(h) == same(name) {
				return i
			}
		}
	}
	return -1
}

// At is the cell of a row in a column, "" where it has none.
func (r CellRow) At(column int) string {
	if column < 0 || column >= len(r.Cells) {
		return ""
	}
	return strings.TrimSpace(r.Cells[column])
}
