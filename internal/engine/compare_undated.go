//go:build !small

package engine

import (
	"fmt"
	"slices"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// whichVisit asks about rows of a field with several visits whose day is not known, or was taken
// from the other rows of their stop as it could not be read. They may be of any visit: on the map
// of another, or on none, they would make the answer milder.
func (q CompareRequest) whichVisit(v *visits, name string, parts []*survey.Survey, without []survey.Stop) error {
	where, err := v.locator()
	if err != nil {
		return err
	}
	visited, rows := make([]int, len(v.ground.Fields)), make([][]string, len(v.ground.Fields))
	for _, p := range parts {
		here := map[int]bool{}
		for _, s := range p.Stops {
			if at := where.FieldAt(s.Longitude, s.Latitude); at >= 0 {
				here[at] = true
				rows[at] = append(rows[at], rowsAt(s, func(r survey.Record) bool { return r.Undated })...)
			}
		}
		for at := range here {
			visited[at]++
		}
	}
	for _, s := range without {
		if at := where.FieldAt(s.Longitude, s.Latitude); at >= 0 {
			rows[at] = append(rows[at], rowsAt(s, func(survey.Record) bool { return true })...)
		}
	}
	for i, f := range v.ground.Fields {
		n := len(rows[i])
		if n == 0 || visited[i] < 2 || q.Settings.Only != nil && !slices.Contains(q.Settings.Only, f.Name) {
			continue
		}
		which := "are they"
		if n == 1 {
			which = "is it"
		}
		return hinted(fmt.Errorf("field %q: no day can be read in %s, and %s holds %d visits: of which %s?", f.Name, figures.Counted(n, "row"), name, visited[i], which),
			fmt.Sprintf("write the day like 2026-07-15: %s; or %s", survey.Listed(rows[i]), bothVisits))
	}
	return nil
}

// rowsAt are the places in their file of some rows of a stop.
func rowsAt(s survey.Stop, which func(survey.Record) bool) (rows []string) {
	for _, r := range s.Records {
		if which(r) {
			rows = append(rows, survey.Problem{File: r.File, Line: r.Line}.Place())
		}
	}
	return rows
}

// locator finds the fields of places.
func (v *visits) locator() (*assess.Locator, error) {
	if v.where == nil {
		var err error
		if v.where, err = assess.NewLocator(v.ground.Fields); err != nil {
			return nil, err
		}
	}
	return v.where, nil
}

// eachOneTable asks of each visit of a file what map asks of it alone: whether it stands twice in
// its table.
func eachOneTable(fields []geo.Field, parts []*survey.Survey) error {
	for _, part := range parts {
		placed, _, err := assess.Place(fields, part.Stops)
		if err != nil {
			return err
		}
		for _, p := range placed {
			if err := oneTable(p.Stops, fmt.Sprintf("field %q: ", p.Field)); err != nil {
				return err
			}
		}
	}
	return nil
}
