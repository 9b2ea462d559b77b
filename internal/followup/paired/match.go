package paired

import (
	"cmp"
	"math"
	"slices"
	"strings"
	"unicode"

	"github.com/geocoris/geocoris/internal/geometry/nearby"
)

// A Place is a stop of one visit.
type Place struct {
	Name  string
	X, Y  float64 // metres
	Value float64 // counts per unit
	Units float64 // leaves or what else was counted on, above 0
}

// A Pair is two stops that stand for one place: indexes of the first visit and
// of the second.
type Pair struct {
	A, B   int
	Metres float64 // between them
}

// ByDistance pairs each stop with the nearest of the other visit, closest pairs
// first, each stop once, as far as a distance in metres and not beyond. Of pairs
// as close, the one of the same name goes first, then the one earlier in a, then
// in b.
func ByDistance(a, b []Place, within float64) []Pair {
	at := make([][2]float64, len(b))
	for j, q := range b {
		at[j] = [2]float64{q.X, q.Y}
	}
	near := nearby.Of(at, within)
	var all []Pair
	for i, p := range a {
		for j := range near.Near(p.X, p.Y, within) {
			if d := math.Hypot(p.X-b[j].X, p.Y-b[j].Y); d <= within {
				all = append(all, Pair{i, j, d})
			}
		}
	}
	namesOfA, namesOfB := names(a), names(b)
	other := func(p Pair) int {
		if name := namesOfA[p.A]; name != "" && name == namesOfB[p.B] {
			return 0
		}
		return 1
	}
	slices.SortFunc(all, func(p, q Pair) int {
		return cmp.Or(cmp.Compare(p.Metres, q.Metres), cmp.Compare(other(p), other(q)), cmp.Compare(p.A, q.A), cmp.Compare(p.B, q.B))
	})
	return firstOfEach(all)
}

// ByName pairs stops of one name, without regard to case, blanks and where they
// lie. Of several stops of a name the closest two belong together.
func ByName(a, b []Place) []Pair {
	named := map[string][]int{}
	for j, name := range names(b) {
		named[name] = append(named[name], j)
	}
	var all []Pair
	for i, name := range names(a) {
		if name == "" {
			continue
		}
		for _, j := range named[name] {
			all = append(all, Pair{i, j, math.Hypot(a[i].X-b[j].X, a[i].Y-b[j].Y)})
		}
	}
	slices.SortStableFunc(all, func(p, q Pair) int { return cmp.Compare(p.Metres, q.Metres) })
	return firstOfEach(all)
}

// names are those of places, alike where they are the same but for case and blanks.
func names(places []Place) []string {
	out := make([]string, len(places))
	for i, p := range places {
		out[i] = strings.Map(firstCase, strings.Join(strings.Fields(p.Name), " "))
	}
	return out
}

// firstCase is the first of the letters that differ from a letter in case alone, as
// strings.EqualFold sees them.
func firstCase(r rune) rune {
	first := r
	for next := unicode.SimpleFold(r); next != r; next = unicode.SimpleFold(next) {
		first = min(first, next)
	}
	return first
}

// firstOfEach keeps the first pair of every stop, in the order of the first
// visit.
func firstOfEach(all []Pair) (kept []Pair) {
	takenA, takenB := map[int]bool{}, map[int]bool{}
	for _, p := range all {
		if !takenA[p.A] && !takenB[p.B] {
			takenA[p.A], takenB[p.B] = true, true
			kept = append(kept, p)
		}
	}
	slices.SortFunc(kept, func(p, q Pair) int { return cmp.Compare(p.A, q.A) })
	return kept
}
