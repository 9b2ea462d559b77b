package compare

import (
	"fmt"
	"slices"
	"time"

	"github.com/geocoris/geocoris/internal/mapping/assess"
)

const secondsADay = 24 * 60 * 60

// dayNumber counts days from 1970 on.
func dayNumber(date string) (float64, error) {
	t, err := time.Parse(time.DateOnly, date)
	if err != nil {
		return 0, fmt.Errorf("day %q: want a date such as 2031-08-21", date)
	}
	return float64(t.Unix() / secondsADay), nil
}

// dayOf is the day of most stops, the earlier of two, and the last of all.
func dayOf(stops []assess.Stop) (day, last string, err error) {
	var days []string
	tally := map[string]int{}
	for _, s := range stops {
		if s.Date == "" {
			return "", "", fmt.Errorf("stop %s does not give its day: growth needs dates; add a column date, or give the days with --dates", s.Name)
		}
		if tally[s.Date] == 0 {
			days = append(days, s.Date)
		}
		tally[s.Date]++
	}
	slices.Sort(days)
	for _, d := range days {
		if tally[d] > tally[day] {
			day = d
		}
	}
	return day, days[len(days)-1], nil
}
