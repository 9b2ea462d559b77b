package assess

import (
	"math"
	"slices"

	"github.com/geocoris/geocoris/internal/mapping/visit"
)

// leastVisit is how many stops are a visit of a field by themselves; fewer may have crossed
// half of it and seem to have crossed all (our choice).
const leastVisit = 5

// Visits are two visits to a field by the days of its stops.
type Visits struct {
	Last, Next string // the last day of one and the first of the next, ISO 8601; "" for one visit
	Again      bool   // half of the stops of one stand where the other has them
}

// Two reports whether these may be two visits. Not counted again, they may be one walk as well
// whose other stops had to wait.
func (v Visits) Two() bool { return v.Next != "" }

// TwoVisits tells, of the stops of a field, whether those of days as far apart as visits are
// ([visit.Settled]) each crossed the field, or were at the same places: counts of both on one
// map are of neither day. All are of one visit where a large field was walked by halves, or
// stops were added round hot ones. Of three visits the first two are told that were at the same
// places, if any were.
func TwoVisits(p Placed) (first Visits) {
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
		before, after := among(p, "", days[i-1]), among(p, days[i], "9999")
		if !isVisit(before) || !isVisit(after) {
			continue
		}
		if recounted(before, after) {
			return Visits{days[i-1], days[i], true}
		}
		if !first.Two() && before.Layout().Crossed() && after.Layout().Crossed() {
			first = Visits{days[i-1], days[i], false}
		}
	}
	return first
}

// among are the planned stops of some days, which may be the same.
func among(p Placed, from, to string) (of Placed) {
	of.Field, of.ground = p.Field, p.ground
	for i, s := range p.Stops {
		if s.Date != "" && s.Date >= from && s.Date <= to && !s.Extra {
			of.Stops, of.Extra, of.at = append(of.Stops, s), append(of.Extra, false), append(of.at, p.at[i])
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
