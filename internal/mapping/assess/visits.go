package assess

import (
	"slices"

	"github.com/geocoris/geocoris/internal/mapping/visit"
)

// leastVisit is how many stops are a visit of a field by themselves; fewer may have crossed
// half of it and seem to have crossed all (our choice).
const leastVisit = 5

// Visits are two visits to a field by the days of its stops.
type Visits struct {
	Last, Next string // the last day of one and the first of the next, ISO 8601; "" for one visit
	Again      bool   // half of the places of the first were counted again, or some all over the field
}

// Two reports whether these may be two visits. Not counted again, they may be one walk as well
// whose other stops had to wait.
func (v Visits) Two() bool { return v.Next != "" }

// TwoVisits tells, of the stops of a field, whether those of days as far apart as visits are
// ([visit.Settled]) each crossed the field, or those of any days were at the same places: counts
// of both on one map are of neither day. All are of one visit where a large field was walked by
// halves, or stops were added round hot ones, or hot ones counted again. Of three visits the
// first two are told that were at the same places, if any were.
func TwoVisits(p Placed) (first Visits) {
	var days []string
	for _, s := range p.Stops {
		if s.Date != "" && !s.Extra {
			days = append(days, s.Date)
		}
	}
	slices.Sort(days)
	days = slices.Compact(days)
	if len(days) < 2 {
		return first
	}
	others := p.onOtherDays()
	for i := 1; i < len(days); i++ {
		before, after := p.among("", days[i-1]), p.among(days[i], "9999")
		if !isVisit(before) || !isVisit(after) {
			continue
		}
		if p.recounted(others, days[i], after) {
			return Visits{days[i-1], days[i], true}
		}
		if !first.Two() && visit.Between(days[i-1], days[i]) >= visit.Settled && before.Layout().Crossed() && after.Layout().Crossed() {
			first = Visits{days[i-1], days[i], false}
		}
	}
	return first
}

// among are the planned stops of some days, which may be the same.
func (p Placed) among(from, to string) (of Placed) {
	of.Field, of.ground = p.Field, p.ground
	for i, s := range p.Stops {
		if s.Date != "" && s.Date >= from && s.Date <= to && !s.Extra {
			of.Stops, of.Extra, of.at = append(of.Stops, s), append(of.Extra, false), append(of.at, p.at[i])
		}
	}
	return of
}

func isVisit(p Placed) bool { return len(p.at) >= leastVisit }

// recounted reports whether the planned stops from a day on are a visit to places of the days
// before: to half of them, or to as many as a visit has, by a walk over the whole field. Each
// place counts once, at its last count before that day.
func (p Placed) recounted(others [][]int, day string, after Placed) bool {
	places, again := 0, 0
	for i, s := range p.Stops {
		if s.Date == "" || s.Date >= day || s.Extra {
			continue
		}
		last, later := true, false
		for _, k := range others[i] {
			switch o := &p.Stops[k]; {
			case o.Extra:
			case o.Date >= day:
				later = true
			case o.Date > s.Date:
				last = false
			}
		}
		if last {
			places++
			if later {
				again++
			}
		}
	}
	return again >= leastVisit && (2*again >= places || 2*again >= len(after.at) && after.Layout().Crossed())
}
