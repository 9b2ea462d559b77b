package check

import (
	"math"
	"slices"

	"github.com/geocoris/geocoris/internal/language/vocabulary"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// withPlants are columns with that of how many plants were looked at, where any row
// tells it: what a row is worth is known only when it is known what is counted on. Leaves
// that no row tells are left out, as one of each row would pass for what was looked at.
func (r *Report) withPlants(columns []CleanColumn) []CleanColumn {
	hasPlants, leaves := false, false
	for _, s := range r.Stops() {
		for _, rec := range s.Records {
			hasPlants, leaves = hasPlants || rec.Looked.HasPlants, leaves || !plantsAlone(rec)
		}
	}
	if !hasPlants {
		return columns
	}
	at := slices.IndexFunc(columns, func(c CleanColumn) bool { return c.Name == "leaves" })
	plants := CleanColumn{"plants", "integer", "plants looked at", true, func(r survey.Record) string {
		switch {
		case r.Looked.HasPlants:
			return r.Looked.Plants
		case r.Looked.Of != "" && r.Looked.Of != "plant":
			return ""
		}
		return number(r.Units)
	}}
	if !leaves {
		columns[at] = plants
		return columns
	}
	leavesOf := columns[at].cell
	columns[at].Required, columns[at].cell = false, func(r survey.Record) string {
		if plantsAlone(r) {
			return ""
		}
		return leavesOf(r)
	}
	plants.Required = false
	return slices.Insert(columns, at+1, plants)
}

// withThings are columns with those of how many of something else than leaves and plants were
// looked at, such as sweeps, under its own name: a column of leaves would say another thing.
func (r *Report) withThings(columns []CleanColumn) []CleanColumn {
	var things []string
	leaves := false
	for _, s := range r.Stops() {
		for _, rec := range s.Records {
			of := thingOf(rec)
			leaves = leaves || of == ""
			if of != "" && !slices.Contains(things, of) {
				things = append(things, of)
			}
		}
	}
	if len(things) == 0 {
		return columns
	}
	at := slices.IndexFunc(columns, func(c CleanColumn) bool { return c.Name == "leaves" })
	leavesOf := columns[at].cell
	columns[at].Required, columns[at].cell = false, func(r survey.Record) string {
		if thingOf(r) != "" {
			return ""
		}
		return leavesOf(r)
	}
	for _, thing := range things {
		many := vocabulary.English.Things(2, thing)
		columns = slices.Insert(columns, at+1, CleanColumn{vocabulary.UnitOf(thing).Column(), "integer", many + " looked at", false, func(r survey.Record) string {
			if thingOf(r) != thing {
				return ""
			}
			return number(r.Units)
		}})
	}
	if !leaves {
		columns = slices.Delete(columns, at, at+1)
	}
	return columns
}

// thingOf is what a row is of, where that is neither leaves nor plants nor untold.
func thingOf(r survey.Record) string {
	if r.Looked.Of == "leaf" || r.Looked.Of == "plant" {
		return ""
	}
	return r.Looked.Of
}

// plantsAlone reports whether a row tells plants and no leaves.
func plantsAlone(r survey.Record) bool { return r.Looked.HasPlants && !r.Looked.Leaves }

// plants names files that tell how many plants were looked at and no leaves: check does
// not know what is counted on, and map asks for it.
func (r *Report) plants() {
	seen := map[string]bool{}
	for _, s := range r.Survey.Stops {
		for _, rec := range s.Records {
			if plantsAlone(rec) && !seen[rec.File] && !math.IsNaN(rec.Total) {
				seen[rec.File] = true
				r.found(survey.Problem{File: rec.File, Line: rec.Line, Column: "plants", Value: rec.Looked.Plants, Severity: survey.Doubtful},
					"how many plants were looked at is not read here, so that means are of rows", "map it with --unit plant")
			}
		}
	}
}
