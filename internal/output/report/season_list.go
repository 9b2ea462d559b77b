//go:build !small

package report

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"text/tabwriter"

	"github.com/geocoris/geocoris/internal/followup/season"
	"github.com/geocoris/geocoris/internal/language/figures"
)

// A SeasonList is what a season holds.
type SeasonList struct {
	Visits     []season.Line
	Treatments []season.Record
	Beside     []season.Beside
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
	authors := slices.ContainsFunc(l.Visits, func(v season.Line) bool { return v.Author != "" })
	head := []string{u.Text("visit"), u.Text("day"), u.Text("stops"), u.Text("pest"), u.Text("counts")}
	if authors {
		head = append(head, u.Text("by"))
	}
	fmt.Fprintln(t, strings.Join(append(head, u.Text("files")), "\t"))
	for _, v := range l.Visits {
		fmt.Fprintf(t, "%d\t%s\t%d\t%s\t%s\t", v.ID, Day(v.Date, u), v.Stops, inCell(u.Language().Pest(v.Pest)), inCell(averagePer(v.Unit, u)))
		if authors {
			fmt.Fprintf(t, "%s\t", inCell(v.Author))
		}
		fmt.Fprintln(t, inCell(strings.Join(v.Files, ", ")))
	}
	for _, r := range l.Treatments {
		fmt.Fprintf(t, "%s\t%s\t\t%s\n", u.Text("treatment"), inCell(r.Date), inCell(r.Note))
	}
	if err := t.Flush(); err != nil || len(l.Beside) == 0 {
		return err
	}
	fmt.Fprintln(w)
	twice := false
	for _, b := range l.Beside {
		form := "%s, %s: counted in parts, by visits %s; compare takes them as one visit."
		if !b.Parts() {
			form, twice = "%s, %s: counted more than once, by visits %s.", true
		}
		fmt.Fprintln(w, u.Say(form, b.Field, Day(b.Date, u), visitsWithAuthors(b, l.Visits)))
	}
	if !twice {
		return nil
	}
	_, err := fmt.Fprintln(w, u.Text("To compare, leave all but one of a day out with --without."))
	return err
}

// inCell is a text on one line, without the signs that end a cell or a row: a note of two
// lines would else look like a visit of its own.
func inCell(text string) string { return strings.Join(strings.Fields(text), " ") }

// BesideTexts say in English which visits are of one field and day, all fields of the same
// visits and day in one text, in the order of the first; and of those that are parts of one walk,
// that compare takes them so.
func BesideTexts(all []season.Beside, lines []season.Line) []string {
	return besideTexts([2]string{"visits %s are both of %s on %s", "visits %s are all of %s on %s"}, all, lines)
}

// KeptTexts are [BesideTexts] of a season that has just been merged.
func KeptTexts(all []season.Beside, lines []season.Line) []string {
	return besideTexts([2]string{"visits %s are both of %s on %s; all are kept", "visits %s are all of %s on %s; all are kept"}, all, lines)
}

// besideTexts takes a form for two visits and one for more.
func besideTexts(forms [2]string, all []season.Beside, lines []season.Line) (texts []string) {
	for len(all) > 0 {
		first := all[0]
		var fields []string
		all = slices.DeleteFunc(slices.Clone(all), func(b season.Beside) bool {
			with := b.Date == first.Date && slices.Equal(b.Visits, first.Visits) && b.Parts() == first.Parts()
			if with {
				fields = append(fields, b.Field)
			}
			return with
		})
		form := forms[min(max(len(first.Visits)-2, 0), 1)]
		if first.Parts() {
			form = "visits %s are parts of one walk of %s on %s; compare takes them as one visit"
		}
		texts = append(texts, fmt.Sprintf(form, visitsWithAuthors(first, lines), fieldsOf(fields), first.Date))
	}
	return texts
}

// mostFieldsNamed bounds the fields in a text.
const mostFieldsNamed = 8

func fieldsOf(names []string) string {
	if more := len(names) - mostFieldsNamed; more > 0 {
		return fmt.Sprintf("%s and %d more", strings.Join(names[:mostFieldsNamed], ", "), more)
	}
	return strings.Join(names, ", ")
}

// visitsWithAuthors are numbers of visits with those who brought them: 2 (Anna), 3 (Ben).
func visitsWithAuthors(b season.Beside, lines []season.Line) string {
	var all []string
	for _, id := range b.Visits {
		one := fmt.Sprint(id)
		if i := slices.IndexFunc(lines, func(l season.Line) bool { return l.ID == id }); i >= 0 && lines[i].Author != "" {
			one += " (" + strings.ReplaceAll(lines[i].Author, "; ", ", ") + ")"
		}
		all = append(all, one)
	}
	return strings.Join(all, ", ")
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
	type beside struct {
		Field  string  `json:"field"`
		Date   string  `json:"date"`
		Visits []int64 `json:"visits"`
		Parts  bool    `json:"parts_of_one_walk,omitempty"`
	}
	out := struct {
		Visits     []season.Line `json:"visits"`
		Treatments []treatment   `json:"treatments"`
		Beside     []beside      `json:"counted_more_than_once,omitempty"`
	}{append([]season.Line{}, l.Visits...), []treatment{}, nil}
	for _, b := range l.Beside {
		out.Beside = append(out.Beside, beside{b.Field, b.Date, b.Visits, b.Parts()})
	}
	for _, r := range l.Treatments {
		out.Treatments = append(out.Treatments, treatment{r.Date, r.Note})
	}
	return WriteJSON(w, out)
}
