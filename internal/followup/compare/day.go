package compare

import (
	"fmt"
	"slices"
	"time"

	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/scouting/survey"
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
	var days, without []string
	for _, s := range stops {
		if s.Date == "" {
			without = append(without, s.Name)
			continue
		}
		days = append(days, s.Date)
	}
	switch {
	case len(without) > 0 && len(days) > 0:
		return "", "", fmt.Errorf("stops without a day beside others with one: growth needs dates; write them like 2026-07-15 at stop %s", survey.Listed(without))
	case len(without) > 0:
		return "", "", fmt.Errorf("stop %s does not give its day: growth needs dates; add a column date, or give the days with --dates", without[0])
	}
	return dayOfMost(days), slices.Max(days), nil
}

// dayOfMost is the day that most of some are, the earlier of two; "" of none.
func dayOfMost(days []string) (most string) {
	tally := map[string]int{}
	for _, d := range days {
		tally[d]++
	}
	for d, n := range tally {
		if n > tally[most] || n == tally[most] && d < most {
			most = d
		}
	}
	return most
}

// Newest is the last of the days on which visits were made, each on the day of most of its
// stops, in whatever field they lie; "" where none tells its day.
func Newest(visits []*survey.Survey) (newest string) {
	for _, v := range visits {
		var days []string
		for _, s := range v.Stops {
			if s.Date != "" {
				days = append(days, s.Date)
			}
		}
		newest = max(newest, dayOfMost(days))
	}
	return newest
}
