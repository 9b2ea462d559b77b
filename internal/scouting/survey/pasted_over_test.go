package survey_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/scouting/survey"
	"github.com/geocoris/geocoris/internal/testkit/given"
)

// Counts that are as many as the leaves at nearly every stop are one column twice; not where
// all leaves are infested, nor at a few stops.
func TestAColumnPutOverAnotherIsRefused(t *testing.T) {
	n := func(i int) string { return fmt.Sprint(5 + i%7) }
	none := func(int) string { return "" }
	other := func(at ...int) func(int) string {
		return func(i int) string {
			if slices.Contains(at, i) {
				return "20"
			}
			return n(i)
		}
	}
	for name, c := range map[string]struct {
		rows                    int
		count, leaves, infested func(i int) string
		in                      string // "" where it is read
	}{
		"eight rows":         {8, n, n, none, "every row"},
		"seven rows":         {7, n, n, none, ""},
		"one other of ten":   {10, other(4), n, none, "9 of 10 rows"},
		"one of nine":        {9, other(4), n, none, ""},
		"two of twenty":      {20, other(4, 9), n, none, "18 of 20 rows"},
		"with blanks":        {12, func(i int) string { return []string{"", n(i)}[min(1, i%4)] }, n, none, "every row"},
		"four numbers":       {12, func(i int) string { return fmt.Sprint(1 + i%4) }, func(i int) string { return fmt.Sprint(1 + i%4) }, none, ""},
		"one on one leaf":    {12, func(int) string { return "1" }, func(int) string { return "1" }, none, ""},
		"ten on ten":         {12, func(int) string { return "10" }, func(int) string { return "10" }, none, ""},
		"counts, ten leaves": {12, n, func(int) string { return "10" }, none, ""},
		"all are infested":   {12, n, n, n, ""},
		"not all are":        {12, n, n, func(int) string { return "3" }, "every row"},
	} {
		table := "stop,longitude,latitude,count,leaves,infested\n"
		for i := range c.rows {
			table += fmt.Sprintf("%d,-101.60%02d,35.9,%s,%s,%s\n", i, i, c.count(i), c.leaves(i), c.infested(i))
		}
		s, err := survey.Read(given.Table(table), survey.Options{Incoming: true})
		if c.in != "" {
			assert.ErrorContains(t, err, "count and leaves are the same in "+c.in+": was one column put over the other?", name)
		} else {
			require.NoError(t, err, name)
			assert.Equal(t, name == "all are infested", strings.Contains(strings.Join(s.Notes, "\n"), "read as one on each leaf; if only infested leaves were counted"), name)
		}
		for what, set := range map[string]survey.Options{"counts that were kept": {}, "shares": {Incoming: true, Shares: true}} {
			_, err = survey.Read(given.Table(table), set)
			assert.NoError(t, err, "%s: %s", name, what)
		}
	}
}
