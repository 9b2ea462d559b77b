package check

import (
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"strconv"

	"github.com/geocoris/geocoris/internal/survey"
)

// WriteProblems writes all problems and findings as CSV for a spreadsheet.
func (r *Report) WriteProblems(w io.Writer) error {
	c := csv.NewWriter(w)
	if err := c.Write([]string{"file", "line", "column", "value", "severity", "what", "mend"}); err != nil {
		return err
	}
	for _, p := range r.All() {
		if err := c.Write([]string{p.File, strconv.Itoa(p.Line), p.Column, safe(p.Value), p.Severity.String(), p.What, p.Mend}); err != nil {
			return err
		}
	}
	c.Flush()
	return c.Error()
}

// safe keeps a spreadsheet from taking what stood in the file for a formula.
func safe(text string) string {
	if text != "" && (text[0] == '=' || text[0] == '@') {
		return "'" + text
	}
	return text
}

// A CleanColumn is a column of the clean file, with how the schema beside it
// describes it.
type CleanColumn struct {
	Name, Type, Description string
	Required                bool
	cell                    func(survey.Record) string
}

// number is a figure as it was, blank where it was not told.
func number(v float64) string {
	if math.IsNaN(v) {
		return ""
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}

// CleanColumns are the columns that the reader understands, in the order in which
// the clean file and the template have them. The count is a mean where any row's
// total is no whole number, as from classes or means.
func CleanColumns(means bool) []CleanColumn {
	count := CleanColumn{"count", "integer", "found on all leaves of the row together; 0 if nothing was found, never blank", true,
		func(r survey.Record) string { return number(r.Total) }}
	if means {
		count = CleanColumn{"mean_per_leaf", "number", "mean count per leaf of the row", true,
			func(r survey.Record) string { return number(r.Total / r.Units) }}
	}
	return []CleanColumn{
		{"stop", "string", "name of the place", true, func(r survey.Record) string { return r.Stop }},
		{"longitude", "number", "decimal degrees, WGS 84, west below 0", true, func(r survey.Record) string { return number(r.Longitude) }},
		{"latitude", "number", "decimal degrees, WGS 84, south below 0", true, func(r survey.Record) string { return number(r.Latitude) }},
		count,
		{"leaves", "integer", "leaves looked at", true, func(r survey.Record) string { return number(r.Units) }},
		{"plant", "string", "number of the plant at the stop", false, func(r survey.Record) string { return r.Plant }},
		{"leaf", "string", "which leaf of the plant", false, func(r survey.Record) string { return r.Leaf }},
		{"date", "date", "day of the count", false, func(r survey.Record) string { return r.Date }},
		{"time", "string", "time of the day, hh:mm", false, func(r survey.Record) string { return r.Time }},
		{"observer", "string", "who counted", false, func(r survey.Record) string { return r.Observer }},
		{"pest", "string", "what was counted", false, func(r survey.Record) string { return r.Pest }},
		{"stage", "string", "growth stage of the crop", false, func(r survey.Record) string { return r.Stage }},
		{"accuracy_m", "number", "accuracy of the position, metres", false, func(r survey.Record) string { return number(r.Accuracy) }},
		{"notes", "string", "anything else", false, func(r survey.Record) string { return r.Notes }},
	}
}

// Means reports whether the counts used need to be written as means.
func (r *Report) Means() bool {
	for _, s := range r.Survey.Stops {
		for _, rec := range s.Records {
			if rec.Total != math.Trunc(rec.Total) {
				return true
			}
		}
	}
	return false
}

// WriteClean writes the rows that were used, as they were understood: reading
// them back gives the same stops. A stop that shares its name with another gets a
// name of its own.
func (r *Report) WriteClean(w io.Writer) error {
	c := csv.NewWriter(w)
	columns := CleanColumns(r.Means())
	if err := c.Write(namesOf(columns)); err != nil {
		return err
	}
	used := map[string]int{}
	for _, s := range r.Survey.Stops {
		name := s.Name
		if used[s.Name]++; used[s.Name] > 1 {
			name = fmt.Sprintf("%s (%d)", s.Name, used[s.Name])
		}
		for _, rec := range s.Records {
			rec.Stop = name
			cells := make([]string, len(columns))
			for i, column := range columns {
				cells[i] = column.cell(rec)
			}
			if err := c.Write(cells); err != nil {
				return err
			}
		}
	}
	c.Flush()
	return c.Error()
}

func namesOf(columns []CleanColumn) []string {
	names := make([]string, len(columns))
	for i, c := range columns {
		names[i] = c.Name
	}
	return names
}

// Schema describes the columns as a Frictionless Table Schema.
func Schema(columns []CleanColumn) map[string]any {
	var fields []map[string]any
	for _, c := range columns {
		f := map[string]any{"name": c.Name, "type": c.Type, "description": c.Description}
		if c.Required {
			f["constraints"] = map[string]any{"required": true}
		}
		fields = append(fields, f)
	}
	return map[string]any{"$schema": "https://datapackage.org/profiles/2.0/tableschema.json", "fields": fields, "missingValues": []string{""}}
}
