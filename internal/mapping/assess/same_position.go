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

// samePositions are those of n stops of one day that share one position to its last digit, four
// names or more at each. Plants of a stop that have names of their own, such as 1a to 1e, share
// its place and are no such stops.
func samePositions(n int, stop func(i int) *survey.Stop) (all [][]int) {
	if !manyShare(n, stop) { // most fields: the names at each place would take ten times as long
		return nil
	}
	at, names := map[dayPlace][]int{}, map[dayPlace]map[string]bool{}
	for i := range n {
		p := dayPlaceOf(stop(i))
		if names[p] == nil {
			names[p] = map[string]bool{}
		}
		at[p], names[p][stop(i).Name] = append(at[p], i), true
	}
	days := map[string][]map[string]bool{} // the names at each place of a day
	for p, of := range names {
		days[p.day] = append(days[p.day], of)
	}
	ofPlants := map[string]bool{}
	for day, places := range days {
		ofPlants[day] = plants(places)
	}
	for i := range n {
		p := dayPlaceOf(stop(i))
		if at[p][0] == i && len(names[p]) >= leastSamePosition && !ofPlants[p.day] {
			all = append(all, at[p])
		}
	}
	return all
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

// plants reports whether the names at the places of a day are of plants at stops: each place,
// of which there are several, has at least half as many as the most, and what its names begin
// with is no other's.
func plants(places []map[string]bool) bool {
	most, stems := 0, map[string]bool{}
	for _, of := range places {
		most = max(most, len(of))
	}
	for _, of := range places {
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
