package assess

import (
	"math"
	"slices"

	"github.com/geocoris/geocoris/internal/mapping/visit"
)

// leastVisit is how many stops are a visit of a field by themselves; fewer may have crossed
// half of it and seem to have crossed all (our choice).
const leastVisit = 5

// TwoVisits are, of the stops of a field, the last day of one visit and the first of the
// next, ISO 8601, where stops of days as far apart as visits are ([visit.Settled]) each
// crossed the field, or were at the same places: counts of both on one map are of neither
// day. Both are "" where all are of one visit, such as a large field walked by halves, or
// stops added round hot ones.
func TwoVisits(p Placed) (last, next string) {
	var days []string
	for _, s := range p.Stops {
		if s.Date != "" && !s.Extra {
			days = append(days, s.Date)
		}
	}
	slices.Sort(days)
	days = slices.Compact(days)
	for i := 1; i < len(days); i++ {
		if visit.Between(days[i-1], days[i]) < visit.Settled {
			continue
		}
		if before, after := among(p, "", days[i-1]), among(p, days[i], "9999"); isVisit(before) && isVisit(after) && (before.Layout().Crossed() && after.Layout().Crossed() || recounted(before, after)) {
			return days[i-1], days[i]
		}
	}
	return "", ""
}

// among are the planned stops of some days, which may be the same.
func among(p Placed, from, to string) (of Placed) {
	of.Field, of.ground = p.Field, p.ground
	for i, s := range p.Stops {
		if s.Date != "" && s.Date >= from && s.Date <= to && !s.Extra {
			of.Stops, of.at = append(of.Stops, s), append(of.at, p.at[i])
		}
	}
	return of
}

func isVisit(p Placed) bool { return len(p.at) >= leastVisit }

// recounted reports whether half of the stops of one visit stand where the other has a stop of
// their name.
func recounted(a, b Placed) bool {
	if len(b.at) < len(a.at) {
		a, b = b, a
	}
	named := map[string][]int{} // stops of b
	for k, s := range b.Stops {
		named[s.Name] = append(named[s.Name], k)
	}
	again := 0
	for i, s := range a.Stops {
		if s.Name != "" && slices.ContainsFunc(named[s.Name], func(k int) bool {
			return math.Hypot(a.at[i][0]-b.at[k][0], a.at[i][1]-b.at[k][1]) <= sameStop
		}) {
			again++
		}
	}
	return 2*again >= len(a.at)
}
