package paired_test

import (
	"cmp"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/internal/followup/paired"
)

// Pairs are those that holding every stop against every other finds: stops on whole metres
// are often as far apart, and names differ in case, by letters of one case-folding too.
func TestPairsAreThoseOfAllWithAll(t *testing.T) {
	rng, found := rand.New(rand.NewPCG(25, 26)), 0
	stops := func(n int) (all []paired.Place) {
		for range n {
			name := fmt.Sprint([]string{"", "k ", "K ", " \u212a  ", "\u017f", "S"}[rng.IntN(6)], []string{"", "1"}[rng.IntN(2)])
			all = append(all, paired.Place{Name: name, X: float64(rng.IntN(12)), Y: float64(rng.IntN(12)), Units: 1})
		}
		return all
	}
	alike := func(p, q paired.Place) bool {
		a, b := strings.Join(strings.Fields(p.Name), " "), strings.Join(strings.Fields(q.Name), " ")
		return a != "" && strings.EqualFold(a, b)
	}
	for range 60 {
		a, b := stops(rng.IntN(30)), stops(rng.IntN(30))
		for _, within := range []float64{-1, 0, 2, math.Inf(1), math.NaN()} {
			want := nearestFirst(a, b, alike, func(p, q paired.Place, d float64) bool { return d <= within })
			assert.Equal(t, want, paired.ByDistance(a, b, within), "%v %v within %v", a, b, within)
			found += len(want)
		}
		want := nearestFirst(a, b, alike, func(p, q paired.Place, _ float64) bool { return alike(p, q) })
		assert.Equal(t, want, paired.ByName(a, b), "%v %v", a, b)
		found += len(want)
	}
	assert.Greater(t, found, 1000)
}

// nearestFirst pairs what may be paired, the closest first, then those of one name.
func nearestFirst(a, b []paired.Place, alike func(p, q paired.Place) bool, may func(p, q paired.Place, d float64) bool) (kept []paired.Pair) {
	var all []paired.Pair
	for i, p := range a {
		for j, q := range b {
			if d := math.Hypot(p.X-q.X, p.Y-q.Y); may(p, q, d) {
				all = append(all, paired.Pair{A: i, B: j, Metres: d})
			}
		}
	}
	slices.SortStableFunc(all, func(p, q paired.Pair) int {
		if p.Metres != q.Metres || alike(a[p.A], b[p.B]) == alike(a[q.A], b[q.B]) {
			return cmp.Compare(p.Metres, q.Metres)
		}
		if alike(a[p.A], b[p.B]) {
			return -1
		}
		return 1
	})
	for _, p := range all {
		if !slices.ContainsFunc(kept, func(q paired.Pair) bool { return p.A == q.A || p.B == q.B }) {
			kept = append(kept, p)
		}
	}
	slices.SortFunc(kept, func(p, q paired.Pair) int { return cmp.Compare(p.A, q.A) })
	return kept
}
