package paired

import (
	"cmp"
	"math"
	"slices"
	"strings"
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
	var all []Pair
	for i, p := range a {
		for j, q := range b {
			if d := math.Hypot(p.X-q.X, p.Y-q.Y); d <= within {
				all = append(all, Pair{i, j, d})
			}
		}
	}
	other := func(p Pair) int {
		if sameName(a[p.A].Name, b[p.B].Name) {
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
	var all []Pair
	for i, p := range a {
		for j, q := range b {
			if sameName(p.Name, q.Name) {
				all = append(all, Pair{i, j, math.Hypot(p.X-q.X, p.Y-q.Y)})
			}
		}
	}
	slices.SortStableFunc(all, func(p, q Pair) int { return cmp.Compare(p.Metres, q.Metres) })
	return firstOfEach(all)
}

func sameName(a, b string) bool {
	a, b = strings.Join(strings.Fields(a), " "), strings.Join(strings.Fields(b), " ")
	return a != "" && strings.EqualFold(a, b)
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
