package survey

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"
)

// A spreadsheet that cells are dragged over fills those below them in equal steps: numbers
// and days that go up by one, also behind or before a word, the line through two numbers, or
// the first one again. What was counted or measured in so many rows in turn does not go so by
// chance; few days do not either, and few counts are alike where many were found.
const (
	leastFilled   = 10
	leastDays     = 5
	leastConstant = 5
)

// steps are rows in turn whose values go in equal steps.
type steps struct {
	from, n int // row and how many
	by      float64
}

// steadily is the first run of least rows or more in equal steps that will do; ok is false
// for none. value is not a number where a row has none.
func steadily(rows []row, least int, value func(row) float64, will func(s steps, first float64) bool) (s steps, ok bool) {
	before, first := math.NaN(), math.NaN()
	for i, r := range rows {
		v := value(r)
		switch by := v - before; {
		case s.n > 1 && math.Abs(by-s.by) <= 1e-9:
			s.n++
		default:
			if s.n >= least && will(s, first) {
				return s, true
			}
			s, first = steps{i - 1, 2, by}, before
			if math.IsNaN(by) {
				s.n = 0
			}
		}
		before = v
	}
	return s, s.n >= least && will(s, first)
}

// filledOf are notes on columns that a spreadsheet may have filled: counts and what they are
// of, days, and longitudes or latitudes where the others of the rows go otherwise.
func filledOf(t table, l *layout) (notes []string) {
	number := func(c column) func(row) float64 {
		return func(r row) float64 {
			v, err := strconv.ParseFloat(strings.Replace(l.text(r, c), ",", ".", 1), 64)
			if err != nil {
				return math.NaN()
			}
			return v
		}
	}
	note := func(c column, least int, value func(row) float64, will func(s steps, first float64) bool, compare string) {
		if s, ok := steadily(t.Rows, least, value, will); ok && l.at[c] >= 0 {
			notes = append(notes, fmt.Sprintf("%s: %s %s in each of lines %d to %d, as a spreadsheet fills cells that are dragged over: %s",
				t.File, c, s.say(c), t.Rows[s.from].Line, t.Rows[s.from+s.n-1].Line, compare))
		}
	}
	const counted = "compare them with what was counted"
	note(colCount, leastFilled, number(colCount), func(s steps, first float64) bool { return s.by != 0 || first >= leastConstant }, counted)
	note(colLeaves, leastFilled, number(colLeaves), func(s steps, _ float64) bool { return s.by != 0 }, counted)
	for _, c := range []column{colDate, colTime} {
		note(c, leastDays, l.dayNumber(c), func(s steps, _ float64) bool { return s.by == 1 && l.stopsApart(t.Rows[s.from:s.from+s.n]) }, "put the days right")
	}
	if rough, is := roughOf(t, l); is && rough.Decimals <= roughDecimals {
		return notes
	}
	for c, other := range map[column]column{colLongitude: colLatitude, colLatitude: colLongitude} {
		note(c, leastFilled, number(c), func(s steps, _ float64) bool {
			_, both := steadily(t.Rows[s.from:s.from+s.n], 3, number(other), func(steps, float64) bool { return true })
			return !both
		}, "compare them with where the stops are, unless they were planned so")
	}
	return notes
}

// say is how a column goes.
func (s steps) say(c column) string {
	unit := ""
	if c == colDate || c == colTime {
		unit = " day"
	}
	switch {
	case s.by == 0:
		return "is the same"
	case s.by == 1:
		return "goes up by one" + unit
	case s.by < 0:
		return fmt.Sprintf("goes down by %.7g", -s.by)
	}
	return fmt.Sprintf("goes up by %.7g", s.by)
}

// dayNumber is the day in a column, counted from some day.
func (l *layout) dayNumber(c column) func(row) float64 {
	return func(r row) float64 {
		date, _, _ := l.parseTime(l.text(r, c))
		day, err := time.Parse(time.DateOnly, date)
		if err != nil {
			return math.NaN()
		}
		return float64(day.Unix() / (24 * 60 * 60))
	}
}

// stopsApart reports whether no two rows in turn are of one stop: else one is walked each day.
func (l *layout) stopsApart(rows []row) bool {
	for i, r := range rows[1:] {
		if l.text(r, colStop) == l.text(rows[i], colStop) {
			return false
		}
	}
	return true
}
