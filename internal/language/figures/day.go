package figures

import (
	"fmt"
	"time"
)

// Day writes a day given by ISO 8601 as people say it: Saturday 18 July. What is no such
// day stays as it is.
func Day(iso string) string {
	day, err := time.Parse(time.DateOnly, iso)
	if err != nil {
		return iso
	}
	return fmt.Sprintf("%s %d %s", day.Weekday(), day.Day(), day.Month())
}

// ShortDay is [Day] for a column: Sat 18 Jul.
func ShortDay(iso string) string {
	day, err := time.Parse(time.DateOnly, iso)
	if err != nil {
		return iso
	}
	return fmt.Sprintf("%.3s %d %.3s", day.Weekday(), day.Day(), day.Month())
}
