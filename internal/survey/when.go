package survey

import (
	"strings"
	"time"
)

// Forms of dates and times, ISO 8601 first. With slashes the month comes first,
// unless it could be none; with dots the day does.
var (
	dateForms     = [...]string{"2006-01-02", "20060102", "2006/01/02", "1/2/2006", "2/1/2006", "2.1.2006", "1/2/06", "2 Jan 2006", "Jan 2, 2006"}
	clockForms    = [...]string{"15:04", "15:04:05", "15:04:05.999999999", "3:04 PM", "3:04:05 PM", "3:04PM"}
	zoneForms     = [...]string{"", "Z07:00", "Z0700", " MST"}
	betweenFields = [...]string{"T", " "}
)

// parseTime reads a date, a time of day, or both. The time is kept as it was at
// the place: a zone is read and left aside.
func parseTime(text string) (date, clock string, ok bool) {
	text = strings.ToUpper(strings.Join(strings.Fields(text), " "))
	for _, c := range clockForms {
		if t, err := time.Parse(c, text); err == nil {
			return "", t.Format("15:04"), true
		}
	}
	for _, d := range dateForms {
		if t, ok := parsePlausible(d, text); ok {
			return t.Format(time.DateOnly), "", true
		}
		for _, between := range betweenFields {
			for _, c := range clockForms {
				for _, zone := range zoneForms {
					if t, ok := parsePlausible(d+between+c+zone, text); ok {
						return t.Format(time.DateOnly), t.Format("15:04"), true
					}
				}
			}
		}
	}
	return "", "", false
}

// parsePlausible keeps dates within living memory and a little beyond.
func parsePlausible(form, text string) (t time.Time, ok bool) {
	t, err := time.Parse(form, text)
	return t, err == nil && t.Year() >= 1900 && t.Year() <= 2200
}
