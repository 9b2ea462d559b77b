package survey

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/files/spreadsheet"
)

// A Correction is a cell of a file of counts that is read as if it held something else. The
// file stays as it is.
type Correction struct {
	File     string // its name, without or with its folders
	Line     int    // counted from 1, as problems tell it
	Column   string // as the header names it
	Was, Now string
	Why      string // "" where nobody said
	At       string // file:line of the correction itself
}

// Corrections reads a table of corrections with the columns file, line, column, was, now
// and why. The same cell twice is an error.
func Corrections(from geofile.Source) (all []Correction, err error) {
	cells, err := ReadCells(from)
	if err != nil {
		return nil, err
	}
	names := [...]string{"file", "line", "column", "was", "now", "why"}
	var at [len(names)]int
	for i, name := range names {
		if at[i] = cells.Column(name); at[i] < 0 && name != "why" {
			return nil, fmt.Errorf("%s: has no column %s: want file, line, column, was, now, why", cells.File, name)
		}
	}
	first := map[string]string{}
	for _, row := range cells.Rows {
		c := Correction{File: row.At(at[0]), Column: row.At(at[2]), Was: spreadsheet.Text(row.At(at[3])), Now: spreadsheet.Text(row.At(at[4])), Why: row.At(at[5])}
		c.At = fmt.Sprintf("%s:%d", cells.File, row.Line)
		if c.Line, err = strconv.Atoi(row.At(at[1])); err != nil || c.Line < 1 || c.File == "" || c.Column == "" {
			return nil, fmt.Errorf("%s: want the file, the number of the line and the column of the cell, as check tells them", c.At)
		}
		key := fmt.Sprintf("%s:%d:%s", cleaned(c.File), c.Line, same(c.Column))
		if first[key] != "" {
			return nil, fmt.Errorf("%s: corrects the same cell as %s: leave one of the two", c.At, first[key])
		}
		first[key] = c.At
		all = append(all, c)
	}
	if len(all) == 0 {
		return nil, fmt.Errorf("%s: holds no correction", cells.File)
	}
	return all, nil
}

// String is what is done, for notes.
func (c Correction) String() string {
	said := fmt.Sprintf("%s:%d: %s %s is read as %s", cleaned(c.File), c.Line, c.Column, quote(c.Was), quote(c.Now))
	if c.Why != "" {
		said += " (" + shorten(c.Why) + ")"
	}
	return said
}

// A CorrectionError is a correction that does not fit its file.
type CorrectionError struct {
	Correction
	What string
}

func (e *CorrectionError) Error() string {
	return fmt.Sprintf("%s: %s:%d: %s", e.At, cleaned(e.File), e.Line, e.What)
}

// correct applies the corrections of the file. Each must find the cell as it says.
func (t *table) correct(all []Correction) error {
	for _, c := range all {
		if what := t.correctCell(c); what != "" {
			return &CorrectionError{c, what}
		}
		t.corrected = append(t.corrected, c)
	}
	return nil
}

// correctCell applies a correction, or says why it cannot be.
func (t *table) correctCell(c Correction) (wrong string) {
	column := -1
	for i, h := range t.Header {
		if same(h) == same(c.Column) {
			column = i
			break
		}
	}
	if column < 0 {
		return fmt.Sprintf("there is no column %s; there are %s", quote(c.Column), strings.Join(t.Header, ", "))
	}
	found := -1
	for i, r := range t.Rows {
		if r.Line != c.Line {
			continue
		}
		if found >= 0 {
			return "several rows stand on this line: write the file with a line for each"
		}
		found = i
	}
	if found < 0 {
		return "no row of cells begins on this line"
	}
	row := &t.Rows[found]
	is := ""
	if column < len(row.Cells) {
		is = strings.TrimSpace(row.Cells[column])
	}
	if is != c.Was {
		return fmt.Sprintf("%s is %s, not %s as the correction says", c.Column, quote(is), quote(c.Was))
	}
	cells := append([]string(nil), row.Cells...)
	for len(cells) <= column {
		cells = append(cells, "")
	}
	cells[column] = c.Now
	row.Cells = cells
	if at := (cellAt{c.Line, column}); t.typed != nil { // what a person writes is typed
		t.typed[at] = true
		delete(t.odd, at)
	}
	return ""
}
