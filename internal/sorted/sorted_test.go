package sorted_test

import (
	"cmp"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/internal/sorted"
	_ "github.com/geocoris/geocoris/internal/testkit" // knows its flags
)

type thing struct{ key, number int }

func byKey(a, b thing) int { return cmp.Compare(a.key, b.key) }

// Of equal ones too the order is that of the standard library's own.
func TestListsAreSortedAsTheLibraryDoes(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 1))
	for _, n := range []int{0, 1, 2, 12, 13, 60, 1000} {
		all := make([]thing, n)
		for i := range all {
			all[i] = thing{rng.IntN(1 + n/3), i}
		}
		want, got := slices.Clone(all), slices.Clone(all)
		slices.SortFunc(want, byKey)
		sorted.By(got, byKey)
		assert.Equal(t, want, got)

		want, got = slices.Clone(all), slices.Clone(all)
		slices.SortStableFunc(want, byKey)
		sorted.Stably(got, byKey)
		assert.Equal(t, want, got)
	}
}
