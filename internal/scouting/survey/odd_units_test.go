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

// A stop is doubted whose leaves are five times the median of all, or a fifth, and
// so are several, up to a quarter of all; where more differ, they do by design. Of two stops
// nobody can say which.
func TestStopsOfOddLeavesAreDoubted(t *testing.T) {
	const many = "has %d leaves, most others about %s: is there a 0 too many?"
	const few = "has %s, most others about %s: is a 0 missing?"
	for _, c := range []struct {
		leaves []int
		want   map[string]string // stop → what
	}{
		{[]int{10, 100, 10}, map[string]string{"2": fmt.Sprintf(many, 100, "10")}},
		{[]int{100, 8, 10, 9}, map[string]string{"1": fmt.Sprintf(many, 100, "9.5")}},
		{[]int{10, 50, 10}, map[string]string{"2": fmt.Sprintf(many, 50, "10")}},
		{[]int{10, 49, 10}, nil},
		{[]int{12, 100, 8, 9, 10, 100, 10, 9}, map[string]string{"2": fmt.Sprintf(many, 100, "10"), "6": fmt.Sprintf(many, 100, "10")}},
		{[]int{10, 100, 100, 10, 10, 10, 10}, nil},
		{[]int{10, 100, 1, 10, 10, 10, 10, 10}, map[string]string{"2": fmt.Sprintf(many, 100, "10"), "3": fmt.Sprintf(few, "1 leaf", "10")}},
		{[]int{10, 1, 20}, map[string]string{"2": fmt.Sprintf(few, "1 leaf", "10")}},
		{[]int{10, 2, 10}, map[string]string{"2": fmt.Sprintf(few, "2 leaves", "10")}},
		{[]int{11, 3, 11}, nil},
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
		var said map[string]string
		for _, o := range read.Odd {
			if said == nil {
				said = map[string]string{}
			}
			said[o.Stop.Name], _ = o.What()
		}
		assert.Equal(t, c.want, said, c.leaves)
	}
}

// Few leaves of a stop whose other rows could not be read are no slip of who typed them.
func TestStopsOfRowsNotReadHaveFewLeaves(t *testing.T) {
	text := "stop,longitude,latitude,count,leaf\n"
	for i := range 8 {
		for k := range 6 {
			count := fmt.Sprint(i + k)
			if i == 4 && k > 0 {
				count = "lots"
			}
			text += fmt.Sprintf("S%d,%g,35.9,%s,%d\n", i, -101.6+0.001*float64(i), count, k+1)
		}
	}
	read, err := survey.Read(given.Table(text), survey.Options{})
	require.NoError(t, err)
	require.Len(t, read.Unread, 5)
	assert.Equal(t, 1., read.Stops[4].Units)
	assert.Empty(t, read.Odd)
}

// Where there is no list of doubts, lines of notes name every stop.
func TestNotesNameStopsOfOddLeaves(t *testing.T) {
	read, err := survey.Read(given.Table("stop,longitude,latitude,count,leaves\na,-101.6,35.9,4,10\nb,-101.61,35.9,4,100\nc,-101.62,35.9,4,10\n"), survey.Options{})
	require.NoError(t, err)
	assert.Equal(t, []string{"-:3 (stop b, 100 leaves): far more leaves than at most other stops: a 0 too many?"}, read.OddNotes())
}
