package survey

import (
	"fmt"
	"regexp"
	"strings"
	"time"
)

// Forms of dates and times, ISO 8601 first. With dots the day comes first; with
// slashes the file tells.
var (
	dateForms  = [...]string{"2006-01-02", "20060102", "2006/01/02", "2.1.2006", "2 Jan 2006", "2-Jan-2006", "2-Jan-06", "Jan 2, 2006"}
	monthForms = [...]string{"1/2/2006", "1/2/06"}
	dayForms   = [...]string{"2/1/2006", "2/1/06"}
	clockForms = [...]string{"15:04", "15:04:05", "15:04:05.999999999", "3:04 PM", "3:04:05 PM", "3:04PM"}
	zoneForms  = [...]string{"", "Z07:00", "Z0700", " MST"}
	slashed    = regexp.MustCompile(`^\s*(\d\d?)/(\d\d?)/(?:\d\d|\d{4})(?:\D|$)`)
)

// longestTime bounds the text tried as a time: none that is known is as long.
const longestTime = 48

// slashes says what comes first in dates with slashes.
type slashes uint8

const (
	monthFirst slashes = iota
	dayFirst
	bothFirst // the file contradicts itself
)

// slashesOf tells month/day from day/month by the file's dates together, never
// row by row: 7/13/2026 in one row says what 7/5/2026 in another means. Where no
// date tells, the month is taken first, and note says so.
func slashesOf(t table, l *layout) (order slashes, note string) {
	var day, month bool
	var open string
	for _, row := range t.Rows {
		for _, c := range []column{colDate, colTime} {
			text := l.text(row, c)
			d, m, differ := sides(text)
			day, month = day || d, month || m
			if open == "" && differ {
				open = text
			}
		}
	}
	switch {
	case day && month:
		return bothFirst, ""
	case day:
		return dayFirst, ""
	case month || open == "":
		return monthFirst, ""
	}
	return monthFirst, fmt.Sprintf("%s: dates such as %q are read month first, and none in the file tells; write them as 2026-07-15 to be sure", t.File, open)
}

// sides says whether a date with slashes must have the day or the month first,
// or could have either and mean two days.
func sides(text string) (day, month, open bool) {
	if !strings.Contains(text, "/") { // asked of every row
		return false, false, false
	}
	m := slashed.FindStringSubmatch(text)
	if m == nil {
		return false, false, false
	}
	a, b := small(m[1]), small(m[2])
	return a > 12 && b <= 12, b > 12 && a <= 12, a <= 12 && b <= 12 && a != b
}

// small is the value of one or two digits.
func small(digits string) (v int) {
	for _, d := range digits {
		v = 10*v + int(d-'0')
	}
	return v
}

// forms lists the forms of dates that may be meant by text.
func (s slashes) forms(text string) []string {
	if !strings.Contains(text, "/") {
		return dateForms[:]
	}
	forms := append([]string(nil), dateForms[:]...)
	if _, _, open := sides(text); open && s == bothFirst {
		return forms
	}
	if s != dayFirst {
		forms = append(forms, monthForms[:]...)
	}
	if s != monthFirst {
		forms = append(forms, dayForms[:]...)
	}
	return forms
}

// parseTime reads a date, a time of day, or both. The time is kept as it was at
// the place: a zone is read and left aside.
func (s slashes) parseTime(text string) (date, clock string, ok bool) {
	if date, clock, ok = isoTime(text); ok {
		return date, clock, true
	}
	if len(text) > longestTime {
		return "", "", false
	}
	text = strings.ToUpper(strings.Join(strings.Fields(text), " "))
	if clock, ok := parseClock(text, zoneForms[:1]); ok {
		return "", clock, true
	}
	forms := s.forms(text)
	if date, ok := parseDate(text, forms); ok {
		return date, "", true
	}
	for i, c := range text {
		if c != 'T' && c != ' ' {
			continue
		}
		if date, ok := parseDate(text[:i], forms); ok {
			clock, ok := parseClock(text[i+1:], zoneForms[:])
			return date, clock, ok
		}
	}
	return "", "", false
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

// isDay reports whether text of the form of 2006-01-02 is a day that [parseDate]
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

func parseClock(text string, zones []string) (clock string, ok bool) {
	for _, form := range clockForms {
		for _, zone := range zones {
			if t, err := time.Parse(form+zone, text); err == nil {
				return t.Format("15:04"), true
			}
		}
	}
	return "", false
}

// parseDate keeps dates within living memory and a little beyond.
func parseDate(text string, forms []string) (date string, ok bool) {
	for _, form := range forms {
		t, err := time.Parse(form, text)
		if err == nil && t.Year() >= 1900 && t.Year() <= 2200 {
			return t.Format(time.DateOnly), true
		}
	}
	return "", false
}
