package shares_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/internal/shares"
	_ "github.com/geocoris/geocoris/internal/testkit" // knows its flags
)

// Each thing is in one share, none is in two, and no share but the last is smaller than told.
func TestSharesAreOfAll(t *testing.T) {
	for _, n := range []int{0, 1, 2, 3, 7, 8, 9, 1000} {
		for _, least := range []int{1, 2, 8, 500, 1001} {
			all := shares.Found(n, least, func(from, to int) (some []int) {
				for i := from; i < to; i++ {
					some = append(some, i, -i)
				}
				return some
			})
			assert.Len(t, all, 2*n)
			for k, i := range all {
				assert.Equal(t, []int{k / 2, -(k / 2)}[k%2], i)
			}
			times := make([]int, n)
			shares.Of(n, least, func(from, to int) {
				assert.Less(t, from, to)
				assert.True(t, to-from >= least || to == n)
				for i := from; i < to; i++ {
					times[i]++
				}
			})
			for i, done := range times {
				assert.Equal(t, 1, done, "%d of %d", i, n)
			}
		}
	}
}
