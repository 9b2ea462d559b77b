package survey_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// A column that was moved by a cell is known by its end alone.
func TestAColumnThatMovedIsNamed(t *testing.T) {
	counts := []string{"12", "5", "80", "33", "7", "0", "41", "9"}
	table := func(counts []string, more ...string) string {
		rows := []string{"stop,longitude,latitude,count,leaves,date,notes"}
		for i, n := range counts {
			rows = append(rows, fmt.Sprintf("%d,%g,35.9,%s,10,2026-07-15,", i+1, -101.6+float64(i)/1000, n))
		}
		return strings.Join(append(rows, more...), "\n") + "\n"
	}
	up := append(append([]string{}, counts[:3]...), append(counts[4:], "")...)
	down := append(append([]string{}, counts[:3]...), append([]string{""}, counts[3:7]...)...)
	for name, c := range map[string]struct {
		text string
		ends int
	}{
		"whole":               {table(counts), 0},
		"deleted":             {table(up), -1},
		"put in":              {table(down, ",,,9,,,"), 1},
		"blank in the middle": {table(append(append([]string{}, counts[:3]...), append([]string{""}, counts[4:]...)...)), 0},
		"two blanks":          {table(append(append([]string{}, up[:2]...), append([]string{""}, up[3:]...)...)), 0},
		"a stop not walked":   {table(counts, "9,-101.59,35.9,,,,"), 0},
		"a sum":               {table(down, ",,,178,,,"), 0},
		"a remark":            {table(counts, ",,,,,,wet"), 0},
	} {
		s := read(t, c.text, survey.Options{})
		ends := 0
		for _, slip := range s.Slips {
			ends += slip.Ends
		}
		assert.Equal(t, c.ends, ends, name)
		assert.Equal(t, c.ends != 0, strings.Contains(strings.Join(s.Notes, "\n"), "so that all below moved"), name)
	}
}
