package survey

import (
	"fmt"
	"time"
)

// A beside tells the order of dates that a table leaves open by its days that are one whatever
// the order, as 2026-07-08 is: where the open dates all fall on these days in one order alone,
// that is theirs. Else the order with the fewer days from the first to the last is the better
// guess. Our choice.
type beside struct {
	order slashes
	on    bool // the open dates fall on the other days
	guess bool // the order is the nearer one
}

func besideOf(t table, l *layout) (b beside) {
	sure := map[string]bool{}
	for _, c := range []column{colDate, colTime} {
		d := daysOf(t, l, c)
		for _, r := range t.Rows {
			if text := d.dated(r); len(text) >= len(time.DateOnly) {
				sure[text[:len(time.DateOnly)]] = true
			}
		}
	}
	if len(sure) == 0 {
		return beside{}
	}
	if day, month := l.fallOn(t, sure, dayFirst), l.fallOn(t, sure, monthFirst); day != month {
		return beside{order: map[bool]slashes{true: dayFirst, false: monthFirst}[day], on: true}
	}
	for _, c := range []column{colDate, colTime} {
		d := daysOf(t, l, c)
		switch day, month := d.span(dayFirst, false), d.span(monthFirst, false); {
		case day < month:
			return beside{order: dayFirst, guess: true}
		case month < day:
			return beside{order: monthFirst, guess: true}
		}
	}
	return beside{}
}

// fallOn reports whether all dates of a table that are left open are of some days in an order.
func (l *layout) fallOn(t table, days map[string]bool, order slashes) bool {
	for _, r := range t.Rows {
		for _, c := range []column{colDate, colTime} {
			text := l.text(r, c)
			if _, _, open := sides(text); !open {
				continue
			}
			if day, _, _ := order.parseTime(text); !days[day] {
				return false
			}
		}
	}
	return true
}

// asOthers is how open dates are read that fall on the other days of their file.
func (b beside) asOthers(open OpenDay) string {
	date, _, _ := b.order.parseTime(open.Text)
	return fmt.Sprintf("%s: dates such as %q are read %s, as %s, since they fall on days of other rows so", open.File, open.Text, b.order, date)
}
