//go:build !small

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
// chance; few days do not either, and few counts are alike where many were found. Nobody drags
// over so many rows by hand.
const (
	leastFilled   = 10
	leastDays     = 5
	leastConstant = 5
	mostDragged   = 10_000 // rows
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

// filledOf are notes on counts without an end, and on columns that a spreadsheet may have filled: counts and what they are
// of, days, and longitudes or latitudes where the others of the rows go otherwise.
func filledOf(t table, l *layout) (slips []Slip, notes []string) {
	if open := openNote(t, l); open != "" {
		notes = append(notes, open)
	}
	if slip, moved, ok := l.movedIn(t); ok {
		defer func() { slips, notes = append(slips, slip), append(notes, moved) }()
	}
	note := func(c column, least int, value func(row) float64, will func(s steps, first float64) bool, compare string) {
		if s, ok := steadily(t.Rows, least, value, will); ok && l.at[c] >= 0 {
			slip := Slip{t.File, c.String(), t.Rows[s.from].Line, t.Rows[s.from+s.n-1].Line, false, 0}
			slips = append(slips, slip)
			notes = append(notes, fmt.Sprintf("%s: %s %s in each of lines %d to %d, as a spreadsheet fills cells that are dragged over: %s", t.File, c, s.say(c), slip.From, slip.To, compare))
		}
	}
	const counted = "compare them with what was counted"
	note(colCount, leastFilled, l.numberIn(colCount), func(s steps, first float64) bool {
		return s.by != 0 || first >= leastConstant && l.stopsApart(t.Rows[s.from:s.from+s.n])
	}, counted)
	note(colLeaves, leastFilled, l.numberIn(colLeaves), func(s steps, _ float64) bool { return s.by != 0 }, counted)
	if note := l.orderedAlone(t); len(slips) == 0 && note != "" {
		slips, notes = append(slips, Slip{t.File, colCount.String(), t.Rows[0].Line, t.Rows[len(t.Rows)-1].Line, true, 0}), append(notes, note)
	}
	if len(t.Rows) > mostDragged {
		return slips, notes
	}
	for _, c := range [...]column{colDate, colTime} {
		note(c, leastDays, l.dayNumber(c), func(s steps, _ float64) bool { return s.by == 1 && l.stopsApart(t.Rows[s.from:s.from+s.n]) }, "put the days right")
	}
	if _, rough := roughOf(t, l); rough {
		return slips, notes
	}
	for _, c := range [...][2]column{{colLongitude, colLatitude}, {colLatitude, colLongitude}} {
		note(c[0], leastFilled, l.numberIn(c[0]), func(s steps, _ float64) bool {
			_, both := steadily(t.Rows[s.from:s.from+s.n], 3, l.numberIn(c[1]), func(steps, float64) bool { return true })
			return !both
		}, "compare them with where the stops are, unless they were planned so")
	}
	return slips, notes
}

// numberIn is the number in a column, not a number where there is none.
func (l *layout) numberIn(c column) func(row) float64 {
	return func(r row) float64 {
		v, err := strconv.ParseFloat(strings.Replace(l.text(r, c), ",", ".", 1), 64)
		if err != nil {
			return math.NaN()
		}
		return v
	}
}

// orderedAlone is a note on counts that never fall, or never rise, from the first row to the
// last, where the rows stand in the order of the walk: as where one column was sorted and the
// others were not, or where counts were summed up on the way.
func (l *layout) orderedAlone(t table) string {
	counts := map[float64]bool{}
	up, down := true, true
	for i, r := range t.Rows {
		v := l.numberIn(colCount)(r)
		if math.IsNaN(v) || i > 0 && !l.walkedAfter(r, t.Rows[i-1]) {
			return ""
		}
		if i > 0 {
			before := l.numberIn(colCount)(t.Rows[i-1])
			up, down = up && v >= before, down && v <= before
		}
		if !up && !down {
			return ""
		}
		counts[v] = true
	}
	if len(t.Rows) < leastFilled || len(counts) < leastConstant {
		return ""
	}
	return fmt.Sprintf("%s: counts never %s from the first stop to the last: were they sorted by themselves, or summed up on the way? compare them with what was counted",
		t.File, map[bool]string{true: "fall", false: "rise"}[up])
}

// walkedAfter reports whether a row comes after another by the numbers of their stops.
func (l *layout) walkedAfter(r, before row) bool {
	a, errA := strconv.Atoi(l.text(before, colStop))
	b, errB := strconv.Atoi(l.text(r, colStop))
	return errA == nil && errB == nil && a < b
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
