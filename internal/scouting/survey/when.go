package survey

import (
	"errors"
	"fmt"
	"strconv"
	"strings"
	"time"
)

// ofTheDay is a time of day with what may follow it: a zone, an abbreviation in
// brackets, the word for o'clock.
var ofTheDay = pattern(`(?i)(\d{1,2}):(\d{2})(?::(\d{2})(?:[.,]\d+)?)?(?:\s*([ap])\.?m\b\.?)?` +
	`(?:\s*(?:(?:gmt|utc)?[+-]\d{2}(?::?\d{2})?\b|([a-z]{1,4})\b))?(?:\s*\([^()]*\))?`)

// longestTime bounds the text tried as a time: none that is known is as long.
const longestTime = 64

// slashes says what comes first in dates with slashes.
type slashes uint8

const (
	monthFirst slashes = iota
	dayFirst
	bothFirst // the file contradicts itself
)

// slashesOf tells month/day from day/month by the file's dates together, never
// row by row: 7/13/2026 in one row says what 7/5/2026 in another means. Where no
// date tells, they are read as asked, or as they fall on days of other rows, or as other
// files of the same reading prove; where nobody asked and none proves it, the day is taken first in a
// file with decimal commas, as those who write these write dates, and else the month.
// Then note says so, and line is that of the first row so read.
func slashesOf(t table, l *layout, a asked, others proven) (order slashes, line int, note string, err error) {
	day, month, open, told := tellings(t, l)
	if day.line > 0 && month.line > 0 {
		l.clash = clash{day, month}
		if month.line < day.line {
			l.clash = clash{month, day}
		}
	}
	if open.Text != "" && (day.line > 0) == (month.line > 0) {
		open.MonthFirst, _, _ = monthFirst.parseTime(open.Text)
		open.DayFirst, _, _ = dayFirst.parseTime(open.Text)
		l.openDay = open
	}
	switch {
	case day.line > 0 && month.line == 0:
		l.proven = proven{file: t.File, text: day.text, order: dayFirst}
	case month.line > 0 && day.line == 0:
		l.proven = proven{file: t.File, text: month.text, order: monthFirst}
	}
	switch {
	case a.order != "":
		order, note, err = a.read(day, month, open)
		return order, 0, note, err
	case day.line > 0 && month.line > 0:
		return bothFirst, 0, "", nil
	case day.line > 0:
		return dayFirst, 0, day.alone(dayFirst, told, open), nil
	case month.line > 0:
		return monthFirst, 0, month.alone(monthFirst, told, open), nil
	case open.Text == "":
		return monthFirst, 0, "", nil
	}
	b := besideOf(t, l)
	switch {
	case b.on:
		return b.order, 0, b.asOthers(open), nil
	case others.file != "":
		return others.order, 0, others.asIn(open), nil
	case b.guess:
		order = b.order
	case l.sure:
		order = dayFirst
	default:
		order = monthFirst
	}
	date, _, _ := order.parseTime(open.Text)
	l.openDay.Guessed = date
	return order, open.Line, fmt.Sprintf("%s: dates such as %q are read %s, as %s, and no date in the file shows which is right; write them as %s to be sure", t.File, open.Text, order, date, date), nil
}

// tellings are the first dates of a table that must have the day or the month first, and
// the first that could have either and mean two days; told is how many rows tell.
func tellings(t table, l *layout) (day, month telling, open OpenDay, told int) {
	open.File = t.File
	for _, row := range t.Rows {
		for _, c := range []column{colDate, colTime} {
			text := l.text(row, c)
			d, m, differ := sides(text)
			if d || m {
				told++
			}
			if d && day.line == 0 {
				day = telling{text, row.Line}
			}
			if m && month.line == 0 {
				month = telling{text, row.Line}
			}
			if open.Text == "" && differ {
				open.Line = row.Line
				open.Text, _, _ = splitClock(text)
			}
		}
	}
	return day, month, open, told
}

// alone says that one date decides how all others of its file are read, where it is the only
// one of told rows: a slip of a digit in it would move them all.
func (t telling) alone(order slashes, told int, open OpenDay) string {
	if told > 1 || open.Text == "" {
		return ""
	}
	date, _, _ := order.parseTime(open.Text)
	return fmt.Sprintf("%s: dates such as %q are read %s, as %s, since %q in line %d can only be read so", open.File, open.Text, order, date, t.text, t.line)
}

func (s slashes) String() string {
	return [...]string{"month first", "day first", "neither way"}[s]
}

// sides says whether a date with slashes or dashes must have the day or the month
// first, or could have either and mean two days.
func sides(text string) (day, month, open bool) {
	if len(text) < 6 || len(text) > longestTime || isIsoLike(text) { // asked of every row
		return false, false, false
	}
	if strings.IndexByte(text, '/') < 0 && strings.IndexByte(text, '-') < 0 {
		return false, false, false
	}
	date, _, ok := splitClock(text)
	if !ok {
		return false, false, false
	}
	m, d := readDay(date)
	return m == "" && d != "", d == "" && m != "", m != "" && d != "" && m != d
}

func isIsoLike(text string) bool { return len(text) >= 8 && text[4] == '-' && text[7] == '-' }

// small is the value of one or two digits.
func small(digits string) (v int) {
	for _, d := range digits {
		v = 10*v + int(d-'0')
	}
	return v
}

// parseTime reads a date, a time of day, or both. Both come as they are written:
// what a zone makes of them, [placeTime] says.
func (s slashes) parseTime(text string) (date, clock string, ok bool) {
	if date, clock, ok = isoTime(text); ok {
		return date, clock, true
	}
	if len(text) > longestTime {
		return "", "", false
	}
	rest, clock, ok := splitClock(text)
	if !ok {
		return "", "", false
	}
	if rest == "" {
		return "", clock, clock != ""
	}
	if clock == "" && isSerial(rest) {
		return isoTimeParts(serialTime(rest, false))
	}
	date = s.choose(readDay(rest))
	return date, clock, date != ""
}

// A spreadsheet stores a day as how many it comes after the last of 1899. Such a
// number is taken for one from 2000 to 2099; a part of a day is a time.
const firstSerial, lastSerial = 36526, 73050 // both ends included

// isSerial reports whether text is a day or a time of day as a spreadsheet stores
// them.
func isSerial(text string) bool {
	if len(text) < 2 || text[0] < '0' || text[0] > '9' || !isPlain(text) { // asked of every row
		return false
	}
	v, err := strconv.ParseFloat(text, 64)
	return err == nil && (v >= firstSerial && v < lastSerial+1 || v > 0 && v < 1)
}

// isoTimeParts cuts what serialTime writes.
func isoTimeParts(text string) (date, clock string, ok bool) {
	if len(text) < len(time.DateOnly) {
		return "", text[:len("15:04")], true
	}
	return isoTime(text)
}

// serialsOf finds the first day in a table that is a spreadsheet's number, and says
// what it is read as.
func serialsOf(t table, l *layout) (line int, note string) {
	for _, row := range t.Rows {
		for _, c := range []column{colDate, colTime} {
			if text := l.text(row, c); isSerial(text) && text[0] != '0' {
				return row.Line, fmt.Sprintf("%s: days such as %q are read as a spreadsheet counts them, %s", t.File, text, serialTime(text, false))
			}
		}
	}
	return 0, ""
}

// choose is the reading that the text leaves, or else the file's order; "" for none.
func (s slashes) choose(month, day string) string {
	switch {
	case month == day || day == "":
		return month
	case month == "":
		return day
	case s == monthFirst:
		return month
	case s == dayFirst:
		return day
	}
	return "" // the file contradicts itself
}

// splitClock takes the time of day out of a text; rest is what else it holds. ok is
// false where the time is none of the day.
func splitClock(text string) (rest, clock string, ok bool) {
	text = strings.TrimSpace(text)
	if strings.IndexByte(text, ':') < 0 {
		return text, "", true
	}
	if len(text) == len("06:11") && text[2] == ':' && isTwoDigits(text[:2]) && isTwoDigits(text[3:]) { // most
		clock = clockOf(text[:2], text[3:], "", "")
		return "", clock, clock != ""
	}
	m := ofTheDay().FindStringSubmatchIndex(text)
	if m == nil {
		return "", "", false
	}
	part := func(i int) string {
		if m[2*i] < 0 {
			return ""
		}
		return text[m[2*i]:m[2*i+1]]
	}
	if clock = clockOf(part(1), part(2), part(3), part(4)); clock == "" {
		return "", "", false
	}
	before, after := text[:m[0]], text[m[1]:]
	if word := plainWord(part(5)); (*monthOf())[word] > 0 || (*besides())[word] { // no zone: 06:11 Jul 15 2026
		after = text[m[10]:]
	}
	if n := len(before); n > 1 && (before[n-1] == 'T' || before[n-1] == 't') && before[n-2] >= '0' && before[n-2] <= '9' {
		before = before[:n-1]
	}
	return strings.Trim(before+" "+after, " ,;\t"), clock, true
}

// ParseClock reads a time of day as tables have it, such as 14:30 or 2:30 pm, and returns it as
// hh:mm.
func ParseClock(text string) (string, error) {
	rest, clock, ok := splitClock(strings.TrimSpace(text))
	if !ok || rest != "" || clock == "" {
		return "", errors.New("want a time of day such as 14:30 or 2:30 pm")
	}
	return clock, nil
}

// clockOf is a time of day as hh:mm, "" where it is none; half is a or p where the
// hours go to twelve.
func clockOf(hour, minute, second, half string) string {
	h := small(hour)
	switch {
	case minute > "59" || second > "59":
		return ""
	case half == "" && h > 23, half != "" && (h < 1 || h > 12):
		return ""
	case half != "":
		h %= 12
		if strings.EqualFold(half, "p") {
			h += 12
		}
	}
	return fmt.Sprintf("%02d:%s", h, minute)
}

// isoTime reads the commonest form, a date with or without a time to the minute or
// second and a zone, without trying one form after the other.
func isoTime(text string) (date, clock string, ok bool) {
	if len(text) < 10 || text[4] != '-' || text[7] != '-' {
		return "", "", false
	}
	if !isDay(text[:10]) {
		return "", "", false
	}
	date, rest := text[:10], text[10:]
	if rest == "" {
		return date, "", true
	}
	if len(rest) < 6 || rest[0] != 'T' && rest[0] != ' ' || rest[3] != ':' {
		return "", "", false
	}
	hour, minute := rest[1:3], rest[4:6]
	if !isTwoDigits(hour) || !isTwoDigits(minute) || hour > "23" || minute > "59" {
		return "", "", false
	}
	if rest = rest[6:]; len(rest) >= 3 && rest[0] == ':' && isTwoDigits(rest[1:3]) && rest[1] < '6' {
		rest = rest[3:]
	}
	zoned := len(rest) == 6 && (rest[0] == '+' || rest[0] == '-') && rest[3] == ':' && isTwoDigits(rest[1:3]) && isTwoDigits(rest[4:6])
	return date, hour + ":" + minute, rest == "" || rest == "Z" || zoned
}

// isDay reports whether text of the form of 2006-01-02 is a day that [isoDay]
// keeps. It is asked of every row, so it tries no forms.
func isDay(text string) bool {
	if !isTwoDigits(text[:2]) || !isTwoDigits(text[2:4]) || !isTwoDigits(text[5:7]) || !isTwoDigits(text[8:]) {
		return false
	}
	year, month, day := 100*small(text[:2])+small(text[2:4]), time.Month(small(text[5:7])), small(text[8:])
	// A day that the month has not falls into another.
	return year >= 1900 && year <= 2200 && time.Date(year, month, day, 0, 0, 0, 0, time.UTC).Month() == month
}

func isTwoDigits(s string) bool {
	return len(s) == 2 && s[0] >= '0' && s[0] <= '9' && s[1] >= '0' && s[1] <= '9'
}
