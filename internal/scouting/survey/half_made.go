package survey

import (
	"fmt"
	"strings"
	"time"

	"github.com/geocoris/geocoris/geo/geofile"
)

// A spreadsheet makes a date of what it can read in its own order of day and month, and
// leaves the rest as text: of days typed the other way, those up to the 12th are stored
// with day and month swapped, and those from the 13th on stay as they were typed. So texts
// that can be read in one order alone, beside dates that could be swapped, say that these
// may be. Known of spreadsheets; common practice, no source.

// swapped is the first date of a sheet that was swapped back; line 0 for none.
type swapped struct {
	line   int
	column column
	stored string
}

// unswap swaps back the dates that a spreadsheet had swapped, where the order that was asked
// for is that of its texts. Where nobody asked, or some dates cannot have been swapped, a
// sheet of both is refused: a guess would be wrong by months, and nobody would see it.
func unswap(t table, l *layout, a asked) (note string, err error) {
	if len(t.odd) == 0 {
		return "", nil
	}
	for _, c := range []column{colDate, colTime} {
		told, order := textsOf(t, l, c)
		dates, mixed := datesStored(t, l, c)
		if told.line == 0 || len(dates) == 0 {
			continue
		}
		first := dates[0]
		stored := l.text(first, c)
		if mixed || a.order.slashes() != order || a.order == "" {
			return "", halfMade(t.File, first.Line, told, order, stored, mixed)
		}
		for _, r := range dates {
			r.Cells[l.at[c]] = otherWay(l.text(r, c))
		}
		if l.swapped.line == 0 {
			l.swapped = swapped{first.Line, c, stored}
		}
		note = fmt.Sprintf("%s: %d dates such as %s are read as %s, since the spreadsheet swapped day and month of those it took for dates", t.File, len(dates), stored, l.text(first, c))
	}
	return note, nil
}

// textsOf is the first text of a column that can be read in one order alone, and that
// order; none where texts tell both.
func textsOf(t table, l *layout, c column) (told telling, order slashes) {
	for _, r := range t.Rows {
		if l.at[c] < 0 || t.odd[cellAt{r.Line, l.at[c]}] == dateCell {
			continue
		}
		text := l.text(r, c)
		day, month, _ := sides(text)
		is := monthFirst
		if day {
			is = dayFirst
		}
		switch {
		case !day && !month:
		case told.line == 0:
			told, order = telling{text, r.Line}, is
		case is != order:
			return telling{}, 0
		}
	}
	return told, order
}

// datesStored are the rows whose date the spreadsheet stores as one and that is another day
// with day and month swapped; mixed where others cannot have been swapped.
func datesStored(t table, l *layout, c column) (rows []row, mixed bool) {
	for _, r := range t.Rows {
		if l.at[c] < 0 || t.odd[cellAt{r.Line, l.at[c]}] != dateCell {
			continue
		}
		switch text := l.text(r, c); otherWay(text) {
		case text:
		case "":
			mixed = true
		default:
			rows = append(rows, r)
		}
	}
	return rows, mixed
}

// otherWay is an ISO 8601 day, with or without a time, with day and month swapped: "" where
// that is no day, and the text itself where there is no day in it.
func otherWay(text string) string {
	if len(text) < len(time.DateOnly) || !isDay(text[:len(time.DateOnly)]) {
		return text
	}
	swapped := text[:5] + text[8:10] + "-" + text[5:7]
	if !isDay(swapped) {
		return ""
	}
	return swapped + text[len(time.DateOnly):]
}

// halfMade refuses a sheet that a spreadsheet has made dates of by halves.
func halfMade(file string, line int, told telling, order slashes, stored string, mixed bool) error {
	flag, first := DayFirst, "month"
	if order == monthFirst {
		flag, first = MonthFirst, "day"
	}
	day, _, _ := strings.Cut(stored, "T")
	other := otherWay(day)
	e := &geofile.Error{File: file, Line: line, Hint: "write all days as YYYY-MM-DD, in cells of text"}
	e.Msg = fmt.Sprintf("the spreadsheet has %s here as a date and left %q in line %d as text: it takes the %s first, so this may be %s", spelled(day), told.text, told.line, first, spelled(other))
	if !mixed {
		e.Hint = fmt.Sprintf("if it is %s, give --date-order %s; else write all days as YYYY-MM-DD, in cells of text", spelled(other), flag)
	}
	return e
}
