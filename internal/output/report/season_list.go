package report

import (
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"github.com/geocoris/geocoris/internal/followup/season"
)

// A SeasonList is what a season holds.
type SeasonList struct {
	Visits     []season.Line
	Treatments []season.Record
}

// Day is a day, or that it is not told.
func Day(date string) string {
	if date == "" {
		return "day not told"
	}
	return date
}

// Write writes a table.
func (l SeasonList) Write(w io.Writer) error {
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintln(t, "visit\tday\tstops\tpest\tcounts\tfiles")
	for _, v := range l.Visits {
		fmt.Fprintf(t, "%d\t%s\t%d\t%s\t%s\t%s\n", v.ID, Day(v.Date), v.Stops, v.Pest, strings.Replace(v.Unit, "mean per ", "average per ", 1), strings.Join(v.Files, ", "))
	}
	for _, r := range l.Treatments {
		fmt.Fprintf(t, "treatment\t%s\t\t%s\n", r.Date, r.Note)
	}
	return t.Flush()
}

// WriteJSON writes it for programs.
func (l SeasonList) WriteJSON(w io.Writer) error {
	type treatment struct {
		Date string `json:"date"`
		Note string `json:"note"`
	}
	out := struct {
		Visits     []season.Line `json:"visits"`
		Treatments []treatment   `json:"treatments"`
	}{append([]season.Line{}, l.Visits...), []treatment{}}
	for _, r := range l.Treatments {
		out.Treatments = append(out.Treatments, treatment{r.Date, r.Note})
	}
	return WriteJSON(w, out)
}
