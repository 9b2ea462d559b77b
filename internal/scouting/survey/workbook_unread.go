//go:build !small

package survey

import (
	"fmt"
	"slices"
	"strings"

	"github.com/geocoris/geocoris/geo/geofile"
)

// series are what sheets are called that are filled one after the other, in small letters without
// accents: English, Spanish.
var series = wordSet("week visit round walk semana visita ronda recorrido")

// beside refuses a spreadsheet that shows another sheet of the series of the one read, such as
// "15 July" beside "8 July", in which somebody wrote and no place stands: what is newer may be
// there, in words.
func (w *workbook) beside(chosen string) error {
	if !w.incoming {
		return nil
	}
	for _, sheet := range w.book.GetSheetList() {
		if visible, err := w.book.GetSheetVisible(sheet); sheet == chosen || err == nil && !visible || !sameSeries(chosen, sheet) {
			continue
		}
		has, both, err := w.hasHeader(sheet)
		if err != nil {
			return fmt.Errorf("%s: sheet %q: %w", w.name, sheet, err)
		}
		if has || both || !w.written(sheet) {
			continue
		}
		return &geofile.Error{File: w.name, Msg: fmt.Sprintf("sheet %q has no column for places, so that sheet %q alone would be read: which of them is meant?", sheet, chosen),
			Hint: fmt.Sprintf("hide or delete sheet %q; if its counts are meant, give it the columns of sheet %q and hide that one", sheet, chosen)}
	}
	return nil
}

// written reports whether any cell of a sheet is filled.
func (w *workbook) written(sheet string) bool {
	rows, err := w.book.Rows(sheet)
	if err != nil {
		return false
	}
	defer rows.Close()
	for rows.Next() {
		if cells, err := rows.Columns(); err == nil && !empty(cells) {
			return true
		}
	}
	return false
}

// sameSeries reports whether two sheets are called by days, or by one word of [series] and numbers.
func sameSeries(a, b string) bool {
	if calledByDay(a) && calledByDay(b) {
		return true
	}
	stem := func(name string) string {
		return strings.TrimSpace(strings.Trim(plainWord(name), "0123456789 ."))
	}
	return stem(a) == stem(b) && series()[stem(a)]
}

// calledByDay reports whether a name is a day, with or without a year: a number and another, or
// the name of a month.
func calledByDay(name string) bool {
	parts, ok := dayParts(name)
	return ok && len(parts) > 1 && slices.ContainsFunc(parts, func(p dayPart) bool { return p.digits != "" })
}
