package survey

import (
	"fmt"
	"time"
)

// yearsBack is how old counts may be before their year is asked about. Common
// practice, no source: a map is made of this season's counts.
const yearsBack = 2

// FarDay says what is odd about a day seen from another, both ISO 8601: that it is
// still to come, or more than two years ago. It is "" where nothing is, and where
// one of the two is no day. The morrow is not still to come: clocks of other zones
// have it already.
func FarDay(day, today string) string {
	d, err := time.Parse(time.DateOnly, day)
	now, noDay := time.Parse(time.DateOnly, today)
	switch {
	case err != nil || noDay != nil:
	case d.After(now.AddDate(0, 0, 1)):
		return toCome
	case d.Before(now.AddDate(-yearsBack, 0, 0)):
		return fmt.Sprintf("is more than %d years ago", yearsBack)
	}
	return ""
}

// mostFar is of how many days a line is said each.
const mostFar = 5

// FarDays says so of the days of a survey, with the stops counted then. today comes
// from who asks: nothing here reads a clock, and nothing that is written holds it.
func (s *Survey) FarDays(today string) (lines []string) {
	more := 0
	for _, day := range s.Dates {
		far := FarDay(day, today)
		if far == "" {
			continue
		}
		if len(lines) == mostFar {
			more++
			continue
		}
		stops, first := 0, ""
		for _, stop := range s.Stops {
			if stop.Date != day {
				continue
			}
			if stops++; stops == 1 {
				first = stop.Name
			}
		}
		lines = append(lines, farLine(day, far, stops, first))
	}
	if more > 0 {
		lines = append(lines, fmt.Sprintf("and so for %d more of the days", more))
	}
	return lines
}

// farLine is a line in one of the forms that a language knows.
func farLine(day, far string, stops int, first string) string {
	switch {
	case stops == 1 && far == toCome:
		return fmt.Sprintf("%s is still to come (stop %s): check the year", day, first)
	case stops > 1 && far == toCome:
		return fmt.Sprintf("%s is still to come (%d stops, the first is %s): check the year", day, stops, first)
	case stops == 1:
		return fmt.Sprintf("%s is more than %d years ago (stop %s): check the year", day, yearsBack, first)
	case stops > 1:
		return fmt.Sprintf("%s is more than %d years ago (%d stops, the first is %s): check the year", day, yearsBack, stops, first)
	case far == toCome:
		return fmt.Sprintf("%s is still to come: check the year", day)
	}
	return fmt.Sprintf("%s is more than %d years ago: check the year", day, yearsBack)
}

const toCome = "is still to come"
