package survey_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/scouting/survey"
	"github.com/geocoris/geocoris/internal/testkit/given"
)

// A stop whose leaves are ten times those of every other, or a tenth, is doubted; one that
// others are like, and one of two, is not.
func TestAStopOfOddEffortIsNoted(t *testing.T) {
	for _, c := range []struct {
		leaves []int
		want   []string
	}{
		{[]int{10, 100, 10}, []string{"-:3: stop 2 has 100 leaves, and no other stop more than 10: has it a 0 too many?"}},
		{[]int{100, 8, 10, 9}, []string{"-:2: stop 1 has 100 leaves, and no other stop more than 10: has it a 0 too many?"}},
		{[]int{10, 99, 10}, nil},
		{[]int{10, 100, 100, 10}, nil},
		{[]int{10, 1, 20}, []string{"-:3: stop 2 has 1 leaf, and no other stop fewer than 10: is a 0 missing?"}},
		{[]int{10, 2, 19}, nil},
		{[]int{10, 100}, nil},
		{[]int{100}, nil},
	} {
		var b strings.Builder
		b.WriteString("stop,longitude,latitude,count,leaves\n")
		for i, n := range c.leaves {
			fmt.Fprintf(&b, "%d,-101.6%d,35.9,4,%d\n", i+1, i, n)
		}
		read, err := survey.Read(given.Table(b.String()), survey.Options{})
		require.NoError(t, err)
		assert.Equal(t, c.want, read.Notes, c.leaves)
	}
}
