package assess

import "github.com/geocoris/geocoris/internal/scouting/survey"

// leastSamePosition is from how many stops on a place is none of theirs: no phone gives one
// place to its last digit so often (our choice).
const leastSamePosition = 4

// SamePosition is the first of the stops of one day that share one position to its last digit,
// and how many share it; 0 where fewer than four do.
func SamePosition(stops []survey.Stop) (first, n int) {
	type place struct {
		lon, lat float64
		day      string
	}
	at, names := map[place]int{}, map[place]map[string]bool{}
	for i, s := range stops {
		p := place{s.Longitude, s.Latitude, s.Date}
		if names[p] == nil {
			at[p], names[p] = i, map[string]bool{}
		}
		names[p][s.Name] = true
	}
	for i, s := range stops {
		p := place{s.Longitude, s.Latitude, s.Date}
		if at[p] == i && len(names[p]) > max(n, leastSamePosition-1) {
			first, n = i, len(names[p])
		}
	}
	return first, n
}
