package assess

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"github.com/geocoris/geocoris/internal/geometry/nearby"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// Renumbered looks for planned stops that stand at the place of another with another name, all
// of them below all that were there first, with nothing to tell them apart ([StoodTwice]): two
// visits without a day, of which one was numbered anew. Two stops are of one place where each
// is the other's next, as near as phones can tell, and less than half as far as any third; so
// plants with names of their own at one place are none.
func (p Placed) Renumbered() (all Stood) {
	planned := p.plannedInOrder()
	next := p.nextOf(planned)
	all.Stops = len(planned)
	ended, begun := 0, -1
	for n, i := range planned {
		k := next[n]
		if k <= n || next[k] != n {
			continue
		}
		a, b := &p.Stops[i], &p.Stops[planned[k]]
		if a.Name == b.Name || !undatedAgain(*a, *b) {
			continue
		}
		all.Twice++
		all.Stops--
		if a.Total != b.Total || a.Units != b.Units {
			all.Different++
		}
		ended = max(ended, n)
		if begun < 0 || k < begun {
			begun = k
		}
	}
	if begun < ended {
		return Stood{Stops: all.Stops}
	}
	return all
}

// plannedInOrder are the numbers of the planned stops, in the order of files and lines.
func (p Placed) plannedInOrder() (planned []int) {
	for i := range p.Stops {
		if s := &p.Stops[i]; !s.Extra && len(s.Records) > 0 {
			planned = append(planned, i)
		}
	}
	slices.SortStableFunc(planned, func(i, k int) int {
		a, b := &p.Stops[i].Records[0], &p.Stops[k].Records[0]
		return cmp.Or(strings.Compare(a.File, b.File), a.Line-b.Line)
	})
	return planned
}

// nextOf gives for each of some stops the one at its place, by its number among them; -1 for none.
func (p Placed) nextOf(some []int) []int {
	at := make([][2]float64, len(some))
	for n, i := range some {
		at[n] = p.at[i]
	}
	const reach = 2 * sameFix // a third farther off is more than twice as far
	cells := nearby.Of(at, reach)
	next := make([]int, len(some))
	var all []int
	for n, i := range some {
		near, third := math.Inf(1), math.Inf(1)
		next[n] = -1
		all = round(cells, at, n, reach, all)
		for _, k := range all {
			switch d := p.apart(i, some[k]); {
			case d < near:
				near, third, next[n] = d, near, k
			default:
				third = min(third, d)
			}
		}
		if near > sameFix || !(2*near < third) {
			next[n] = -1
		}
	}
	return next
}

// MayBeRenumbered reports whether some stops without a day share their places with those of
// other names: it is for who would have to find their field first.
func MayBeRenumbered(stops []survey.Stop) bool {
	const fine = 1e4 // parts of a degree, some 11 m
	if !slices.ContainsFunc(stops, func(s survey.Stop) bool { return s.Date == "" }) {
		return false
	}
	names := map[[2]int32]string{}
	n := 0
	for i := range stops {
		s := &stops[i]
		if s.Extra {
			continue
		}
		at := [2]int32{int32(math.Round(fine * s.Longitude)), int32(math.Round(fine * s.Latitude))}
		if name, there := names[at]; !there {
			names[at] = s.Name
		} else if name != s.Name {
			n++
		}
		if n >= leastStood {
			return true
		}
	}
	return false
}
