package report

import (
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"github.com/geocoris/geocoris/internal/followup/season"
	"github.com/geocoris/geocoris/internal/language/figures"
)

// A SeasonList is what a season holds.
type SeasonList struct {
	Visits     []season.Line
	Treatments []season.Record
}

// Day is a day, or that it is not told.
func Day(date string, u figures.Units) string {
	if date == "" {
		return u.Text("day not told")
	}
	return date
}

// Write writes a table.
func (l SeasonList) Write(w io.Writer, u figures.Units) error {
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintln(t, strings.Join([]string{u.Text("visit"), u.Text("day"), u.Text("stops"), u.Text("pest"), u.Text("counts"), u.Text("files")}, "\t"))
	for _, v := range l.Visits {
		fmt.Fprintf(t, "%d\t%s\t%d\t%s\t%s\t%s\n", v.ID, Day(v.Date, u), v.Stops, u.Language().Pest(v.Pest), averagePer(v.Unit, u), strings.Join(v.Files, ", "))
	}
	for _, r := range l.Treatments {
		fmt.Fprintf(t, "%s\t%s\t\t%s\n", u.Text("treatment"), r.Date, r.Note)
	}
	return t.Flush()
}

// averagePer is what was counted, a mean in plain words.
func averagePer(unit string, u figures.Units) string {
	if thing, ok := strings.CutPrefix(unit, "mean per "); ok {
		return u.Say("average per %s", u.Language().Things(1, thing))
	}
	return unit
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
