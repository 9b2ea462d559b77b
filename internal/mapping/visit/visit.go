// Package visit knows when a field is walked again: the usual days to the next visit,
// how long a map is good, and days counted on from days. Days are ISO 8601 dates such
// as 2031-08-21, without a zone, and "" where none is given.
package visit

import (
	"fmt"
	"math"
	"time"
)

// Days from one visit to the next: weekly as a rule, every 3 to 4 days once colonies
// are found (sorghum aphids, Texas A&M AgriLife).
const (
	Usual   = 7
	Settled = 3
)

// most is how many days a day may be counted on; beyond it a number is no number of
// days that anybody meant.
const most = 3660

// Parse reads a day.
func Parse(day string) (time.Time, error) {
	t, err := time.Parse(time.DateOnly, day)
	if err != nil {
		return t, fmt.Errorf("day %q: want a date such as 2031-08-21", day)
	}
	return t, nil
}

// After is the day some days after another; parts of a day are dropped, so that
// nothing comes later than it should. It is "" where the day is none, or the days are
// below 0, not finite or more than ten years.
func After(day string, days float64) string {
	t, err := Parse(day)
	if err != nil || !(days >= 0 && days < most) {
		return ""
	}
	return t.AddDate(0, 0, int(days)).Format(time.DateOnly)
}

// Between are the days from one day to another, below 0 where that comes before;
// NaN where one of them is none.
func Between(from, to string) float64 {
	a, errA := Parse(from)
	b, errB := Parse(to)
	if errA != nil || errB != nil {
		return math.NaN()
	}
	return math.Round(b.Sub(a).Hours() / 24)
}

// Earlier is the earlier of two days; one that is "" is not given, and the other is it.
func Earlier(a, b string) string {
	if a == "" || b != "" && b < a {
		return b
	}
	return a
}

// GoodFor is how many whole days a map is good for: until ground just below the watch
// level, which doubles every so many days, can be at the treat level; or, where no
// growth is known, the usual days to the next visit.
func GoodFor(treat, watch, doubling, usual float64) float64 {
	if doubling > 0 && watch > 0 {
		const rounding = 1e-9 // a watch level from days and doubling gives these days again
		return max(0, math.Floor(doubling*math.Log2(treat/watch)+rounding))
	}
	return usual
}

// NextLook is the day of the next look: some days after the last count, +Inf for no such
// bound, but no later than the map is good, "" for no such day. It is never on the day of
// that count or before it, as whoever is told so has just been there.
func NextLook(last string, days float64, goodUntil string) string {
	return max(Earlier(After(last, days), goodUntil), After(last, 1))
}
