package survey_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/internal/scouting/survey"
)

const slipsHead = "stop,longitude,latitude,count,leaves,time\n"

// walk is a table of stops, each with a count and its leaves.
func walk(stops int, count, leaves func(i int) int) string {
	var b strings.Builder
	for i := range stops {
		fmt.Fprintf(&b, "%d,-101.60%02d,35.9,%d,%d,2026-07-15T06:%02d\n", i+1, i, count(i), leaves(i), i)
	}
	return b.String()
}

func ten(int) int { return 10 }

func some(i int) int { return (i * i) % 17 }

// A table that was pasted below itself is read once.
func TestATablePastedTwiceIsReadOnce(t *testing.T) {
	table := walk(8, some, ten)
	for name, text := range map[string]string{
		"below itself": table + table, "with its header": table + slipsHead + table, "with blank lines": table + "\n,,,,,\n" + slipsHead + table, "three times": table + table + table,
	} {
		s := read(t, slipsHead+text, survey.Options{})
		assert.Equal(t, 8, s.Tally.Used, name)
		assert.Contains(t, strings.Join(problems(s), "\n"), "the same row as line 2 once more", name)
		assert.Len(t, s.Stops[3].Records, 1, name)
	}
	// Leaves that are alike, as they often are, are no repeats.
	leaves := strings.Repeat("1,-101.6,35.9,0,1,\n2,-101.61,35.9,3,1,\n", 8)
	assert.Equal(t, 16, read(t, slipsHead+leaves, survey.Options{}).Tally.Used)
	// Nor are those within a table that was pasted twice.
	table = ""
	for i := range 6 {
		for leaf := range 4 {
			table += fmt.Sprintf("%d,-101.60%02d,35.9,%d,1,\n", i, i, max(0, 2*i*(leaf-2)))
		}
	}
	twice := read(t, slipsHead+table+table, survey.Options{})
	assert.Equal(t, 24, twice.Tally.Used)
	assert.InDelta(t, 2.5, twice.Stops[5].Mean(), 1e-9)
	half := walk(8, func(int) int { return 0 }, ten)
	s := read(t, slipsHead+half+strings.Replace(half, ",0,10", ",1,10", 1), survey.Options{})
	assert.Equal(t, 16, s.Tally.Used, "another count on one row is another walk")
}
