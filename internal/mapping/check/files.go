package check

import (
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/geocoris/geocoris/internal/files/spreadsheet"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// WriteProblems writes all problems and findings as CSV for a spreadsheet.
func (r *Report) WriteProblems(w io.Writer) error {
	c := csv.NewWriter(w)
	if err := c.Write([]string{"file", "line", "column", "value", "severity", "what", "how to fix it"}); err != nil {
		return err
	}
	for _, p := range r.All() {
		if err := c.Write(spreadsheet.Row(p.File, strconv.Itoa(p.Line), p.Column, p.Value, p.Severity.String(), p.Said(), p.Fix)); err != nil {
			return err
		}
	}
	c.Flush()
	return c.Error()
}

// A CleanColumn is a column of the clean file, with how the schema beside it
// describes it.
type CleanColumn struct {
	Name, Type, Description string
	Required                bool
	cell                    func(survey.Record) string
}

// number is a figure as it was, blank where it was not given.
func number(v float64) string {
	if math.IsNaN(v) {
		return ""
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}

// CleanColumns are the columns that the reader understands, in the order in which
// the clean file and the template have them; with means the count is one.
func CleanColumns(means bool) []CleanColumn {
	count := CleanColumn{"count", "integer", "found on all leaves of the row together; 0 if nothing was found, never blank", true,
		func(r survey.Record) string { return countOf(r) }}
	if means {
		count = CleanColumn{"mean_per_leaf", "number", "mean count per leaf of the row", true,
			func(r survey.Record) string { return meanOf(r) }}
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

// kindOf is what is written of a row: nothing of a planned stop.
func kindOf(r survey.Record) string {
	if r.Extra {
		return "extra"
	}
	return ""
}

// Columns are those of the clean file: of CleanColumns, infested, kind and plants where any row
// tells them, the leaves not where plants are given in their place, the count or its mean or both as the rows need, and where each row came
// from. The last also keeps rows that are alike but for what is not read from being
// taken for one row twice.
func (r *Report) Columns() []CleanColumn {
	var counts, classes, means, infested, extra bool
	for _, s := range r.Stops() {
		for _, rec := range s.Records {
			isMean := countOf(rec) == ""
			if !math.IsNaN(rec.Total) {
				counts, means = counts || !isMean, means || isMean
			}
			classes = classes || isClass(rec)
			extra = extra || rec.Extra
			infested = infested || !math.IsNaN(rec.Infested)
		}
	}
	columns := CleanColumns(means && !counts)
	at := slices.IndexFunc(columns, func(c CleanColumn) bool { return c.Name == "leaves" })
	if classes {
		columns[at-1].Type, columns[at-1].Description = "string", "found on all leaves of the row together, or a class such as 11-50; 0 if nothing was found"
	}
	if infested {
		columns = slices.Insert(columns, at+1, CleanColumn{"infested", "integer", "leaves on which anything was found", false,
			func(r survey.Record) string { return number(r.Infested) }})
	}
	if means && counts {
		mean := CleanColumns(true)[at-1]
		mean.Required, columns[at-1].Required = false, false
		mean.Description = "mean count per leaf of the row, where count is blank"
		mean.cell = func(r survey.Record) string {
			if countOf(r) != "" {
				return ""
			}
			return meanOf(r)
		}
		columns = slices.Insert(columns, at, mean)
	}
	if extra {
		notes := slices.IndexFunc(columns, func(c CleanColumn) bool { return c.Name == "notes" })
		columns = slices.Insert(columns, notes, CleanColumn{"kind", "string", "extra where a stop was added to learn more: the field's mean is of the others", false, kindOf})
	}
	columns = r.withSeen(r.withThings(r.withPlants(columns)))
	if !counts && !means && len(r.Stops()) > 0 {
		columns = slices.DeleteFunc(columns, func(c CleanColumn) bool { return c.Name == "count" })
	}
	return append(columns, CleanColumn{"source", "string", "file and line that the row came from", false,
		func(r survey.Record) string { return fmt.Sprintf("%s:%d", r.File, r.Line) }})
}

// countOf is the count of a row as it was entered, a number or a class; "" where it
// is no whole number and has to be written as a mean.
func countOf(r survey.Record) string {
	switch {
	case isClass(r):
		return number(r.Low) + "-" + number(r.High)
	case math.IsNaN(r.Total):
		return ""
	case r.Total == math.Trunc(r.Total):
		return number(r.Total)
	}
	return ""
}

// isClass reports whether the count stands for a class: for the geometric mid-point
// of its bounds, which are whole numbers.
func isClass(r survey.Record) bool {
	return r.Low < r.High && r.Low == math.Trunc(r.Low) && r.High == math.Trunc(r.High) && r.Total == math.Sqrt(max(r.Low, 1)*r.High)
}

// meanOf is the mean per unit which, times the units, is the count again: the
// quotient, or a number beside it where rounding would tell.
func meanOf(r survey.Record) string {
	if math.IsNaN(r.Total) {
		return ""
	}
	mean := r.Total / r.Units
	for _, near := range []float64{mean, math.Nextafter(mean, 0), math.Nextafter(mean, math.Inf(1))} {
		if near*r.Units == r.Total {
			return number(near)
		}
	}
	return number(mean)
}

// WriteClean writes the rows that were used, as they were understood: reading
// them back gives the same stops, but for those that lie in no field, which are
// left out. A stop that shares its name with another of the same day gets a name of
// its own. Rows that were set aside though somebody may have counted on them come last,
// without a count, and are set aside again.
func (r *Report) WriteClean(w io.Writer) error {
	c := csv.NewWriter(w)
	columns := r.Columns()
	if err := c.Write(namesOf(columns)); err != nil {
		return err
	}
	stops := r.Stops()
	names := uniqueNames(stops)
	for i, s := range stops {
		for _, rec := range s.Records {
			rec.Stop = names[i]
			if rec.Pest == "" {
				rec.Pest = r.Survey.Pest
			}
			cells := make([]string, len(columns))
			for i, column := range columns {
				cells[i] = spreadsheet.Cell(writable(column.cell(rec)))
			}
			if err := c.Write(cells); err != nil {
				return err
			}
		}
	}
	for _, u := range slices.Concat(r.Survey.Unread, r.displaced) {
		if err := c.Write(spreadsheet.Row(unreadCells(u, columns)...)); err != nil {
			return err
		}
	}
	c.Flush()
	return c.Error()
}

var inTables = strings.NewReplacer("\x00", "", "\r\n", "\n", "\r", "\n")

// writable is a text without what a table in UTF-8 cannot hold.
func writable(text string) string {
	text = strings.ToValidUTF8(text, "\ufffd")
	if strings.ContainsAny(text, "\x00\r") { // as hardly any does
		text = inTables.Replace(text)
	}
	return strings.TrimSpace(text)
}

// uniqueNames are names that tell the stops of a day apart, and one without a day from those
// beside it, as a blank is taken as of the day of rows of its stop that it stands together with.
// Across days a name stays what it is, since by it a place is found again another week.
func uniqueNames(stops []survey.Stop) []string {
	type onDay struct{ name, date string }
	names := make([]string, len(stops))
	given, named := map[onDay]bool{}, map[string]bool{}
	for i, s := range stops {
		if names[i] = writable(s.Name); names[i] == "" {
			names[i] = "stop"
		}
		given[onDay{names[i], s.Date}], named[names[i]] = true, true
	}
	used := map[onDay]bool{}
	beside := func(i, k int) bool { // one would be taken as of the day of the other
		return k >= 0 && k < len(stops) && (stops[i].Date == "") != (stops[k].Date == "") && names[i] == names[k]
	}
	for i, s := range stops {
		name := names[i]
		for n := 2; used[onDay{names[i], s.Date}] || beside(i, i-1) || s.Date == "" && beside(i, i+1) || n > 2 && (given[onDay{names[i], s.Date}] || s.Date == "" && named[names[i]]); n++ {
			names[i] = fmt.Sprintf("%s (%d)", name, n)
		}
		used[onDay{names[i], s.Date}] = true
	}
	return names
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
