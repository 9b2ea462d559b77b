package survey

import (
	"errors"
	"fmt"
)

// A DayOrder says what comes first in dates that can be read both ways, such as
// 07/08/2026, where no date of their file tells. "" leaves the choice to the reader.
type DayOrder string

// The orders of day and month.
const (
	DayFirst   DayOrder = "day-first"
	MonthFirst DayOrder = "month-first"
)

// UnmarshalText takes one of them.
func (o *DayOrder) UnmarshalText(text []byte) error {
	switch *o = DayOrder(text); *o {
	case "", DayFirst, MonthFirst:
		return nil
	}
	return errors.New("want day-first or month-first")
}

func (o DayOrder) slashes() slashes {
	if o == DayFirst {
		return dayFirst
	}
	return monthFirst
}

// An OpenDay is the first date of a file that can be two days, where no date of the file
// tells which, or its dates contradict one another.
type OpenDay struct {
	File, Text           string // without a time of day
	Line                 int
	MonthFirst, DayFirst string // ISO 8601
}

// orderOf reads open dates as they were asked to be read. The file's own dates go before
// that: what they tell is said where it is otherwise.
func (o DayOrder) orderOf(day, month bool, open OpenDay, telling string) (order slashes, note string) {
	order = o.slashes()
	if day != month && (day && order == monthFirst || month && order == dayFirst) {
		order = dayFirst + monthFirst - order
		return order, fmt.Sprintf("%s: dates such as %q are read %s, not %s as asked, since %q can only be read so", open.File, open.Text, order, o.slashes(), telling)
	}
	return order, fmt.Sprintf("%s: dates such as %q are read %s, as asked", open.File, open.Text, order)
}
