package assess

import (
	"github.com/geocoris/geocoris/internal/geometry/nearby"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

const (
	// leastElsewhere is how many names stand twice at different places before these may be two
	// walks: fewer may be slips (our choice).
	leastElsewhere = 5
	// leastMixed is which part of the stops of the smaller table has one of the other for its
	// nearest, where both are of the same ground: half of them have by chance, and few where two
	// scouts walked a part each (our choice).
	leastMixed = 1.0 / 4
)

// StoodElsewhere counts the names of planned stops that stand in two tables, one below the other
// or in two files, at places farther apart than phones err, with nothing to tell the tables apart
// ([StoodTwice]): two visits of which one has lost its day, each numbered from 1. It is 0 where
// they are less than three in four of the smaller table, or five, and where the tables are of
// different ground. Names of which several stand together, as of the places along a row, are no
// such stops.
func (p Placed) StoodElsewhere() (names int) {
	walked := p.plannedInOrder()
	rise := make([]int, len(walked)+1) // of how many names stand before and after a cut, from cut to cut
	last := map[string]int{}
	for n, i := range walked {
		s := &p.Stops[i]
		name := s.Records[0].Stop
		if name == "" {
			continue
		}
		if k, there := last[name]; there && p.apart(i, walked[k]) > sameStop && undatedAgain(*s, p.Stops[walked[k]]) {
			rise[k+1]++
			rise[n+1]--
		}
		last[name] = n
	}
	cut, over := 0, 0
	for n := range walked {
		if over += rise[n]; over >= names { // the last cut, as the second table begins with a name of the first
			cut, names = n, over
		}
	}
	smaller := min(cut, len(walked)-cut)
	if names < leastElsewhere || 4*names < 3*smaller || !p.mixed(walked, cut) {
		return 0
	}
	return names
}

// mixed reports whether two tables, which are the stops before a cut and those after it, are of
// the same ground.
func (p Placed) mixed(stops []int, cut int) bool {
	few, many := stops[:cut], stops[cut:]
	if len(many) < len(few) {
		few, many = many, few
	}
	at := func(stops []int) (all [][2]float64) {
		for _, i := range stops {
			all = append(all, p.at[i])
		}
		return all
	}
	own, others := nearby.Of(at(few), sameStop), nearby.Of(at(many), sameStop)
	n := 0
	for k, i := range few {
		_, toOwn := own.NearestOther(k)
		if _, toOther := others.Nearest(p.at[i][0], p.at[i][1]); toOther < toOwn {
			n++
		}
	}
	return float64(n) >= leastMixed*float64(len(few))
}

// MayStandElsewhere reports whether some stops without a day have the names of others: it is for
// who would have to find their field first.
func MayStandElsewhere(stops []survey.Stop) bool {
	n, dated, names := 0, 0, map[string]bool{}
	for i := range stops {
		if stops[i].Date != "" {
			dated++
		}
	}
	if dated == len(stops) {
		return false
	}
	for i := range stops {
		s := &stops[i]
		switch name := s.Records[0].Stop; {
		case s.Extra || name == "":
		case names[name]:
			n++
		default:
			names[name] = true
		}
	}
	return n >= leastElsewhere
}
