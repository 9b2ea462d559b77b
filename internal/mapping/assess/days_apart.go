package assess

import (
	"slices"

	"github.com/geocoris/geocoris/internal/mapping/visit"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// leastMonth is how many days apart no stops of one walk are: the shortest month, as the slip
// of a hand is in the month or the year.
const leastMonth = 28

// Apart are stops of a field whose days lie a month or more from those of the others.
type Apart struct {
	Names       []string
	Day, Others string // the first of theirs, and of the others', ISO 8601
	Swapped     bool   // each is the other with day and month swapped, at other stops
}

// DaysApart looks for stops whose days lie a month or more from those of most; of as many the
// earlier ones are named. No stop is where there are none. Extra stops count, as how long a map
// is good goes by the oldest stop of all.
func DaysApart(p Placed) (of Apart) {
	var dated []*survey.Stop
	var days []string
	for i := range p.Stops {
		if s := &p.Stops[i]; s.Date != "" {
			dated, days = append(dated, s), append(days, s.Date)
		}
	}
	slices.Sort(days)
	most, from := 0, 0 // days that lie together: the most, and where those at hand begin
	groups := [][]string{}
	for i := range days {
		if i+1 < len(days) && visit.Between(days[i], days[i+1]) < leastMonth {
			continue
		}
		groups = append(groups, days[from:i+1])
		if len(groups[len(groups)-1]) >= len(groups[most]) {
			most = len(groups) - 1
		}
		from = i + 1
	}
	if len(groups) < 2 {
		return Apart{}
	}
	main, odd := groups[most], groups[0]
	if most == 0 {
		odd = groups[1]
	}
	of.Day, of.Others = odd[0], main[0]
	for _, s := range dated {
		if odd[0] <= s.Date && s.Date <= odd[len(odd)-1] {
			of.Names = append(of.Names, s.Name)
		}
	}
	if len(slices.Compact(days)) == 2 && swapped(of.Day, of.Others) {
		of.Swapped = !p.halfAgain(of.Day, of.Others)
	}
	return of
}

// swapped reports whether two days are one another with day and month swapped.
func swapped(a, b string) bool {
	return len(a) == len(b) && len(a) == len("2006-01-02") && a[:4] == b[:4] && a[5:7] == b[8:] && a[8:] == b[5:7]
}

// halfAgain reports whether half of the planned stops of one of two days stand where the other
// has some.
func (p Placed) halfAgain(a, b string) bool {
	others := p.onOtherDays()
	for _, day := range [...]string{a, b} {
		n, again := 0, 0
		for i, s := range p.Stops {
			if s.Date != day || s.Extra {
				continue
			}
			n++
			if slices.ContainsFunc(others[i], func(k int) bool { return !p.Stops[k].Extra }) {
				again++
			}
		}
		if n > 0 && 2*again >= n {
			return true
		}
	}
	return false
}
