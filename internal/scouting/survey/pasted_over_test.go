package survey_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/internal/scouting/survey"
	"github.com/geocoris/geocoris/internal/testkit/given"
)

// Counts that are as many as the leaves at every stop are one column twice.
func TestAColumnPutOverAnotherIsRefused(t *testing.T) {
	for name, c := range map[string]struct {
		count, leaves func(i int) string
		refused       bool
	}{
		"all the same":       {func(i int) string { return fmt.Sprint(3 * i) }, func(i int) string { return fmt.Sprint(3 * i) }, true},
		"but for one":        {func(i int) string { return fmt.Sprint(3*i + i/7) }, func(i int) string { return fmt.Sprint(3 * i) }, false},
		"with blanks":        {func(i int) string { return []string{"", fmt.Sprint(i)}[min(1, i%4)] }, func(i int) string { return fmt.Sprint(i) }, true},
		"four numbers":       {func(i int) string { return fmt.Sprint(1 + i%4) }, func(i int) string { return fmt.Sprint(1 + i%4) }, false},
		"one on one leaf":    {func(int) string { return "1" }, func(int) string { return "1" }, false},
		"ten on ten":         {func(int) string { return "10" }, func(int) string { return "10" }, false},
		"counts, ten leaves": {func(i int) string { return fmt.Sprint(i) }, func(int) string { return "10" }, false},
	} {
		table := "stop,longitude,latitude,count,leaves\n"
		for i := range 8 {
			table += fmt.Sprintf("%d,-101.60%02d,35.9,%s,%s\n", i, i, c.count(i), c.leaves(i))
		}
		_, err := survey.Read(given.Table(table), survey.Options{Incoming: true})
		if c.refused {
			assert.ErrorContains(t, err, "count and leaves are the same in every row: was one column put over the other?", name)
		} else {
			assert.NoError(t, err, name)
		}
		_, err = survey.Read(given.Table(table), survey.Options{})
		assert.NoError(t, err, "%s: counts that were kept", name)
	}
}
