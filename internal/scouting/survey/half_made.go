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

// What is saved of such a sheet as text shows its dates in one way, often as ISO 8601, and
// the texts as they were typed. A table in text may have both for another reason, as where
// two people's rows were put together, so there the days are compared: where as they are
// written they lie nearer together than swapped, they are read so, and that is said.

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
	for _, c := range []column{colDate, colTime} {
		if l.at[c] < 0 {
			continue
		}
		d := daysOf(t, l, c)
		told, order := d.told()
		if told.line == 0 {
			continue
		}
		dates, mixed := d.swappable()
		if len(dates) == 0 {
			continue
		}
		first, stored := dates[0], d.dated(dates[0])
		if !d.sheet && d.span(order, false) < d.span(order, true) {
			text := l.text(first, c)
			note = fmt.Sprintf("%s: days are written in two ways, %q and %q; %q is read as %s", t.File, text, told.text, text, spelled(stored[:len(time.DateOnly)]))
			continue
		}
		if mixed || a.order.slashes() != order || a.order == "" {
			return "", d.halfMade(first.Line, told, order, stored, mixed)
		}
		for _, r := range dates {
			r.Cells[l.at[c]] = otherWay(d.dated(r))
		}
		if l.swapped.line == 0 {
			l.swapped = swapped{first.Line, c, stored}
		}
		note = fmt.Sprintf("%s: %d dates such as %s are read as %s, since the spreadsheet swapped day and month of those it took for dates", t.File, len(dates), stored, l.text(first, c))
	}
	return note, nil
}

// days are a column of days; sheet tells one of a spreadsheet, which says what it took for
// dates, from one of texts.
type days struct {
	table  table
	layout *layout
	column column
	sheet  bool
}

func daysOf(t table, l *layout, c column) days {
	d := days{table: t, layout: l, column: c}
	for cell, is := range t.odd {
		d.sheet = d.sheet || is == dateCell && cell.column == l.at[c]
	}
	return d
}

// isDate reports whether a cell is a date to the spreadsheet.
func (d days) isDate(r row) bool {
	return d.sheet && d.table.odd[cellAt{r.Line, d.layout.at[d.column]}] == dateCell
}

// told is the first text that can be read in one order alone, and that order; none where
// texts tell both.
func (d days) told() (told telling, order slashes) {
	for _, r := range d.table.Rows {
		if d.isDate(r) {
			continue
		}
		text := d.layout.text(r, d.column)
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

// swappable are the rows whose date is one whatever the order, and another day with day and
// month swapped; mixed where others cannot have been swapped.
func (d days) swappable() (rows []row, mixed bool) {
	for _, r := range d.table.Rows {
		text := d.dated(r)
		switch otherWay(text) {
		case text:
		case "":
			mixed = true
		default:
			rows = append(rows, r)
		}
	}
	return rows, mixed
}

// dated is a cell as ISO 8601 where a spreadsheet stores a date in it or, in a column of
// texts, where it tells one day in whatever order and could be swapped; "" elsewhere.
func (d days) dated(r row) string {
	text := d.layout.text(r, d.column)
	if d.sheet {
		if d.isDate(r) {
			return text
		}
		return ""
	}
	if _, _, ok := isoTime(text); ok {
		return text
	}
	rest, clock, ok := splitClock(text)
	if !ok || len(text) > longestTime {
		return ""
	}
	month, day := readDay(rest)
	switch {
	case month != day || month == "":
		return ""
	case clock != "":
		return month + "T" + clock
	}
	return month
}

// span is how many days lie between the first day and the last, with slashes read in an
// order, and other dates as they are written or swapped.
func (d days) span(order slashes, swap bool) int {
	first, last := "", ""
	for _, r := range d.table.Rows {
		day, _, _ := order.parseTime(d.layout.text(r, d.column))
		if other := otherWay(d.dated(r)); swap && other != "" {
			day = other[:len(time.DateOnly)]
		}
		if day != "" && (first == "" || day < first) {
			first = day
		}
		last = max(last, day)
	}
	from, errFrom := time.Parse(time.DateOnly, first)
	to, errTo := time.Parse(time.DateOnly, last)
	if errFrom != nil || errTo != nil {
		return 0
	}
	return int(to.Sub(from).Hours() / 24)
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
func (d days) halfMade(line int, told telling, order slashes, stored string, mixed bool) error {
	flag, first := DayFirst, "month"
	if order == monthFirst {
		flag, first = MonthFirst, "day"
	}
	day, _, _ := strings.Cut(stored, "T")
	other, asDate, asText, better := otherWay(day), "", "", "write all days as YYYY-MM-DD"
	if d.sheet {
		asDate, asText, better = " as a date", " as text", better+", in cells of text"
	}
	e := &geofile.Error{File: d.table.File, Line: line, Hint: better}
	e.Msg = fmt.Sprintf("the spreadsheet has %s here%s and left %q in line %d%s: it takes the %s first, so this may be %s", spelled(day), asDate, told.text, told.line, asText, first, spelled(other))
	if !mixed {
		e.Hint = fmt.Sprintf("if it is %s, give --date-order %s; else %s", spelled(other), flag, better)
	}
	return e
}
