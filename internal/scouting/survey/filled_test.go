package survey_test

import (
	"fmt"
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
		"by two":        {func(i int) int { return 3 + 2*i }, ten, 10, "counts.csv: count goes up by 2 in each of lines 2 to 11, as"},
		"down":          {func(i int) int { return 90 - 3*i }, ten, 10, "counts.csv: count goes down by 3 in each of lines 2 to 11, as"},
		"the same":      {func(i int) int { return max(5, 9-i) }, ten, 14, "counts.csv: count is the same in each of lines 6 to 15, as"},
		"the same, few": {func(i int) int { return max(5, 9-i) }, ten, 13, ""},
		"low":           {func(i int) int { return 4 }, ten, 30, ""},
	} {
		s := read(t, slipsHead+walk(c.stops, c.count, c.leaves), survey.Options{})
		notes := strings.Join(s.Notes, "\n")
		if c.want == "" {
			assert.NotContains(t, notes, "dragged over", name)
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

// So do days, and places along one of their axes.
func TestDaysAndPlacesThatWereFilledAreNamed(t *testing.T) {
	table := func(rows int, row func(i int) string) string {
		text := "stop,longitude,latitude,count,leaves,date\n"
		for i := range rows {
			text += row(i) + "\n"
		}
		return text
	}
	of := func(lon, lat func(i int) float64) func(i int) string {
		return func(i int) string { return fmt.Sprintf("%d,%.6f,%.6f,%d,10,", i+1, lon(i), lat(i), some(i)) }
	}
	day := func(form string, stop func(i int) int) func(i int) string {
		return func(i int) string {
			return fmt.Sprintf("%d,-101.6%04d,35.9%04d,%d,10,"+form, stop(i), some(i)*31, some(i+3)*17, some(i), i+1)
		}
	}
	each, one := func(i int) int { return i + 1 }, func(int) int { return 1 }
	lon, lat := func(i int) float64 { return -101.6 + float64(some(i))*1.7e-5 }, func(i int) float64 { return 35.9 + float64(some(i+3))*1.3e-5 }
	for name, c := range map[string]struct {
		text, want string
	}{
		"days":            {table(5, day("2026-07-%02d", each)), "counts.csv: date goes up by one day in each of lines 2 to 6, as"},
		"few":             {table(4, day("2026-07-%02d", each)), ""},
		"day first":       {table(14, day("%d.7.2026", each)), "date goes up by one day in each of lines 2 to 15, as"},
		"a trap":          {table(12, day("2026-07-%02d", one)), ""},
		"years":           {table(12, day("20%02d-07-15", each)), ""},
		"latitudes":       {table(10, of(lon, func(i int) float64 { return 35.9 + float64(i)*955e-6 })), "latitude goes up by 0.000955 in each of lines 2 to 11, as"},
		"longitudes":      {table(10, of(func(i int) float64 { return -101.612345 }, lat)), "longitude is the same in each of lines 2 to 11, as"},
		"as few":          {table(9, of(lon, func(i int) float64 { return 35.9 + float64(i)*955e-6 })), ""},
		"a straight walk": {table(12, of(func(i int) float64 { return -101.612345 }, func(i int) float64 { return 35.9 + float64(i)*955e-6 })), ""},
		"as measured":     {table(12, of(lon, lat)), ""},
	} {
		notes := strings.Join(read(t, c.text, survey.Options{}).Notes, "\n")
		if c.want == "" {
			assert.NotContains(t, notes, "dragged over", name)
		} else {
			assert.Contains(t, notes, c.want, name)
		}
	}
}

// A column of counts that was sorted by itself, or holds sums, never falls on the walk.
func TestCountsInTheirOwnOrderAreNamed(t *testing.T) {
	for name, c := range map[string]struct {
		count func(i int) int
		stops int
		want  string
	}{
		"sums":        {func(i int) int { return i * i }, 10, "counts.csv: counts never fall from the first stop to the last"},
		"sorted down": {func(i int) int { return max(0, 60-i*i) }, 12, "counts never rise from the first"},
		"few":         {func(i int) int { return i * i }, 9, ""},
		"four counts": {func(i int) int { return min(i, 3) }, 12, ""},
		"five counts": {func(i int) int { return min(i, 4) }, 12, "counts never fall"},
		"once down":   {func(i int) int { return i*i - 100*(i/11) }, 12, ""},
	} {
		notes := strings.Join(read(t, slipsHead+walk(c.stops, c.count, ten), survey.Options{}).Notes, "\n")
		if c.want == "" {
			assert.NotContains(t, notes, "counts never", name)
		} else {
			assert.Contains(t, notes, c.want, name)
			assert.Equal(t, []survey.Slip{{File: "counts.csv", Column: "count", From: 2, To: c.stops + 1, Sorted: true}}, read(t, slipsHead+walk(c.stops, c.count, ten), survey.Options{}).Slips, name)
		}
	}
	lines := strings.SplitAfter(walk(12, func(i int) int { return i * i }, ten), "\n")
	lines[2], lines[5] = lines[5], lines[2]
	whole := strings.Replace(strings.Join(lines, ""), ",25,10", ",4,10", 1)
	assert.NotContains(t, strings.Join(read(t, slipsHead+whole, survey.Options{}).Notes, "\n"), "counts never", "the table was sorted whole")
}
