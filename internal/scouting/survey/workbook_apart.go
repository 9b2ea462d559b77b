//go:build !small

package survey

import (
	"fmt"
	"slices"

	"github.com/geocoris/geocoris/geo/geofile"
)

// apart refuses a sheet of places whose counts stand in another sheet that is shown, and says
// how to put the two together; where the places come from a file, that other sheet is read. One
// with places of its own is read in place of the first, and named.
func (w *workbook) apart(chosen string, t table) (_ table, instead string, _ error) {
	if w.knows.found(t.Header) || !w.knows.names(t.Header) {
		return t, "", nil
	}
	for _, sheet := range w.book.GetSheetList() {
		if visible, err := w.book.GetSheetVisible(sheet); sheet == chosen || err == nil && !visible {
			continue
		}
		of, err := w.sheet(sheet)
		if err != nil || !w.knows.counts(of.Header) {
			continue
		}
		if w.knows.names(of.Header) {
			return of, sheet, nil
		}
		if w.unplaced {
			of.Notes = append(of.Notes, fmt.Sprintf("%s: read from sheet %q", w.name, sheet))
			return of, "", nil
		}
		return t, "", &geofile.Error{File: w.name, Msg: fmt.Sprintf("sheet %q has the counts and sheet %q the places", sheet, chosen),
			Hint: fmt.Sprintf("save sheet %q as CSV and give that with --places, or copy its columns into sheet %q", chosen, sheet)}
	}
	return t, "", nil
}

// found reports whether a header tells what was found.
func (knows knower) found(header []string) bool {
	return slices.ContainsFunc(header, func(h string) bool {
		c, known := knows(h)
		return known && slices.Contains(found[:], c)
	})
}
