package assess

import (
	"strings"

	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// leastSamePosition is from how many stops on a place is none of theirs: no phone gives one
// place to its last digit so often (our choice).
const leastSamePosition = 4

// dayPlace is a position to its last digit on a day.
type dayPlace struct {
	lon, lat float64
	day      string
}

// SamePosition is the first of n stops of one day that share one position to its last digit,
// and how many share it; 0 where fewer than four do. Plants of a stop that have names of
// their own, such as 1a to 1e, share its place and are no such stops.
func SamePosition(n int, stop func(i int) *survey.Stop) (first, share int) {
	if !manyShare(n, stop) { // most fields: the names at each place would take ten times as long
		return 0, 0
	}
	at, names := map[dayPlace]int{}, map[dayPlace]map[string]bool{}
	for i := range n {
		p := dayPlaceOf(stop(i))
		if names[p] == nil {
			at[p], names[p] = i, map[string]bool{}
		}
		names[p][stop(i).Name] = true
	}
	for i := range n {
		p := dayPlaceOf(stop(i))
		if at[p] == i && len(names[p]) > max(share, leastSamePosition-1) {
			first, share = i, len(names[p])
		}
	}
	if share > 0 && plants(names, stop(first).Date, share) {
		return 0, 0
	}
	return first, share
}

func dayPlaceOf(s *survey.Stop) dayPlace { return dayPlace{s.Longitude, s.Latitude, s.Date} }

// manyShare reports whether so many stops share a position, whatever their names are.
func manyShare(n int, stop func(i int) *survey.Stop) bool {
	share := make(map[dayPlace]int, n)
	for i := range n {
		p := dayPlaceOf(stop(i))
		if share[p]++; share[p] == leastSamePosition {
			return true
		}
	}
	return false
}

// plants reports whether the names of a day are of plants at stops: each of its places, of
// which there are several, has at least half as many as the most, and what its names begin
// with is no other's.
func plants(names map[dayPlace]map[string]bool, day string, most int) bool {
	stems := map[string]bool{}
	for p, of := range names {
		if p.day != day {
			continue
		}
		stem := stemOf(of)
		if 2*len(of) < most || stem == "" || stems[stem] {
			return false
		}
		stems[stem] = true
	}
	return len(stems) > 1
}

// stemOf is what all names begin with; "" for nothing.
func stemOf(names map[string]bool) (stem string) {
	begun := false
	for name := range names {
		if !begun {
			stem, begun = name, true
		}
		for !strings.HasPrefix(name, stem) {
			stem = stem[:len(stem)-1]
		}
	}
	return stem
}
