package check

import (
	"slices"

	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// seenColumns are those of what was written down of the plants beside the counts, as it
// was entered.
func seenColumns() []CleanColumn {
	columns := []CleanColumn{
		{"plants_over", "integer", "of the plants, those at or above what at_or_above says", false, func(r survey.Record) string {
			if r.Seen == nil {
				return ""
			}
			return number(r.Seen.Over)
		}},
		{"at_or_above", "string", "the tally, or the sign, from which a plant counts as over", false, func(r survey.Record) string {
			if r.Seen == nil {
				return ""
			}
			return r.Seen.AtOrAbove
		}},
	}
	about := [...]string{"plants with honeydew, or yes or no of one plant", "plants with colonies, or yes or no of one plant", "predators found", "mummies found"}
	for i, name := range survey.SignNames() {
		columns = append(columns, CleanColumn{name, "string", about[i], false, func(r survey.Record) string {
			if r.Seen == nil {
				return ""
			}
			return r.Seen.Signs()[i].Text
		}})
	}
	return columns
}

// withSeen are columns with those of seenColumns that any row tells, behind those of
// what was looked at.
func (r *Report) withSeen(columns []CleanColumn) []CleanColumn {
	at := slices.IndexFunc(columns, func(c CleanColumn) bool { return c.Name == "plant" })
	for _, c := range seenColumns() {
		found := slices.ContainsFunc(r.Stops(), func(s survey.Stop) bool {
			return slices.ContainsFunc(s.Records, func(rec survey.Record) bool { return c.cell(rec) != "" })
		})
		if found {
			columns = slices.Insert(columns, at, c)
			at++
		}
	}
	return columns
}
