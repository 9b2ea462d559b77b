package survey_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// Cells that a spreadsheet filled by dragging go up by one; what was counted does not.
func TestCellsThatWereFilledAreNamed(t *testing.T) {
	up := func(from int) func(int) int { return func(i int) int { return from + i } }
	for name, c := range map[string]struct {
		count, leaves func(int) int
		stops         int
		want          string
	}{
		"counts":         {up(3), ten, 12, "counts.csv: count goes up by one in each of lines 2 to 13, as"},
		"as few":         {up(3), ten, 10, "counts.csv: count goes up by one in each of lines 2 to 11, as"},
		"too few":        {up(3), ten, 9, ""},
		"leaves":         {some, up(10), 12, "counts.csv: leaves goes up by one in each of lines 2 to 13, as"},
		"a part":         {func(i int) int { return max(some(i)*(14-i)/abs(14-i+1), 0) + (i/15)*i }, ten, 14, ""},
		"behind a start": {func(i int) int { return i - 5 + (5-i)*2*oneIf(i < 5) }, ten, 20, "lines 7 to 21, as"},
		"as counted":     {some, ten, 30, ""}, "none": {func(int) int { return 0 }, ten, 30, ""},
	} {
		s := read(t, slipsHead+walk(c.stops, c.count, c.leaves), survey.Options{})
		notes := strings.Join(s.Notes, "\n")
		if c.want == "" {
			assert.NotContains(t, notes, "goes up by one", name)
		} else {
			assert.Contains(t, notes, c.want, name)
		}
	}
}

func abs(v int) int { return max(v, -v, 1) }

func oneIf(b bool) int {
	if b {
		return 1
	}
	return 0
}
