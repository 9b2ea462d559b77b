package check

import (
	"fmt"
	"slices"
	"strings"

	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// days names stops of a field that were counted on another day than most of it. A
// map takes each field by its own days, so fields are not compared with one another.
// Where no field is known, field is "".
func (r *Report) days(field string, stops []survey.Stop) {
	usual := usualDay(stops)
	than, fix := fmt.Sprintf("most of field %q", field), "leave it if one walk took several days; else correct it, or map each day by itself"
	if field == "" {
		than, fix = "most", "leave it if one walk took several days; else map each day by itself, or give --field if each field was walked on a day of its own"
	}
	for _, s := range stops {
		if s.Date != "" && s.Date != usual {
			r.foundOf(s, "date", s.Date, fmt.Sprintf("is of another day than %s, %s", than, usual), fix)
		}
	}
}

// usualDay is the day of most stops, the first of several; "" where none tells one.
func usualDay(stops []survey.Stop) (usual string) {
	on := map[string]int{}
	for _, s := range stops {
		if s.Date != "" {
			on[s.Date]++
		}
	}
	for day, n := range on {
		if n > on[usual] || n == on[usual] && day < usual {
			usual = day
		}
	}
	return usual
}

// ownDays notes which field was counted on which day, where they differ.
func (r *Report) ownDays(ground []assess.Placed) {
	var counted []string
	var days []string
	for _, g := range ground {
		if day := usualDay(g.Stops); day != "" {
			days = append(days, day)
			counted = append(counted, fmt.Sprintf("%q on %s", g.Field, day))
		}
	}
	if slices.Sort(days); len(slices.Compact(days)) < 2 {
		return
	}
	r.Notes = append(r.Notes, "counted "+strings.Join(counted, ", ")+": map takes each field by its own day")
}
