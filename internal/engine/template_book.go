//go:build !small

package engine

import (
	"cmp"
	"errors"
	"io"
	"slices"

	"github.com/geocoris/geocoris/internal/files/spreadsheet"
	"github.com/geocoris/geocoris/internal/mapping/rules"
)

// A TemplateRequest asks for a spreadsheet to be filled in.
type TemplateRequest struct {
	Rule, Stage string  // by which it is made; "" for counts on leaves
	Rules       *Source // rules of one's own; nil for none
}

// Rows of the spreadsheet that are ready to be typed into.
const templateRows = 500

// A bookColumn is a column of the spreadsheet.
type bookColumn struct {
	header, note string
	choices      []string
	text         bool // its cells are texts, so that 1-10 is no day
}

// TemplateBook is a spreadsheet to be filled in, which map reads as it is: the columns that
// a rule needs, cells for counts as texts, drop-downs for stage and pest.
func TemplateBook(q TemplateRequest) (File, error) {
	book, err := RuleBook(q.Rules)
	if err != nil {
		return File{}, err
	}
	columns, about, err := q.columns(book)
	if err != nil {
		return File{}, err
	}
	counts := spreadsheet.Sheet{Name: "counts", Choices: map[int][]string{}, Notes: map[int]string{}, Blank: templateRows, Rows: [][]any{{}}}
	how := spreadsheet.Sheet{Name: "how to fill it in", Rows: [][]any{{"column", "what goes into it"}}}
	for i, c := range columns {
		counts.Rows[0] = append(counts.Rows[0], c.header)
		if c.text {
			counts.Text = append(counts.Text, i)
		}
		if c.choices != nil {
			counts.Choices[i] = c.choices
		}
		counts.Notes[i] = c.note
		how.Rows = append(how.Rows, []any{c.header, c.note})
	}
	for _, line := range about {
		how.Rows = append(how.Rows, []any{"", line})
	}
	files, err := render([]rendering{{"counts.xlsx", func(w io.Writer) error { return spreadsheet.WriteBook(w, counts, how) }}})
	if err != nil {
		return File{}, err
	}
	return files[0], nil
}

// columns are those of the spreadsheet, and what is to be known of it.
func (q TemplateRequest) columns(book *rules.Book) (columns []bookColumn, about []string, err error) {
	needed := []rules.Column{{Header: "count", Title: "count"}, {Header: "leaves", Title: "leaves"}}
	pests, stages := pestsOf(book), []string{rules.PreBoot, rules.Boot, rules.BloomToMilk, rules.Dough, rules.BlackLayer}
	if q.Rule == "" && q.Stage != "" {
		return nil, nil, usage(errors.New("--stage goes with --rule"))
	}
	if q.Rule != "" {
		rule, err := book.Named(q.Rule)
		if err != nil {
			return nil, nil, hinted(err, "geocoris rules lists them")
		}
		needs, err := rule.Needs(q.Stage, 0, 0)
		if err != nil {
			return nil, nil, err
		}
		needed, pests, stages = needs.Columns, []string{rule.Pest}, stagesOfRule(rule)
		about = []string{"the table is for " + needs.Level.Source(), rules.Caution, needs.How}
	}
	columns = []bookColumn{
		{header: "stop", note: "its name or number; all rows of one stop have the same", text: true},
		{header: "longitude", note: "degrees, such as -101.60530; blank where --places tells it", text: true},
		{header: "latitude", note: "degrees, such as 35.89250; blank where --places tells it", text: true},
	}
	for _, c := range needed {
		columns = append(columns, countColumn(c))
	}
	return append(columns,
		bookColumn{header: "date", note: "of the count, such as 2026-07-15", text: true},
		bookColumn{header: "time", note: "of the count, such as 07:42", text: true},
		bookColumn{header: "observer", note: "who counted"},
		bookColumn{header: "pest", note: "choose it, or write another", choices: pests},
		bookColumn{header: "stage", note: "growth stage of the crop: choose it, or write another", choices: stages},
		bookColumn{header: "notes", note: "whatever else was seen"}), about, nil
}

// countColumn is a column that a rule is fed by.
func countColumn(c rules.Column) bookColumn {
	notes := map[string]string{
		"count":       "found on all of them together; 0 where nothing was found, never blank; a class such as 11-50 will do",
		"leaf":        "its number; a row for each leaf",
		"mean":        "the " + c.Title,
		"infested":    "how many of them had any",
		"plants_over": "how many were so: " + c.Title,
		"at_or_above": "from how many on a plant counts, or by which sign: " + c.Filled,
	}
	b := bookColumn{header: c.Header, note: cmp.Or(notes[c.Header], "how many "+c.Title+" were looked at"), text: true}
	if c.Header == "at_or_above" && c.Filled != "" {
		b.choices = []string{c.Filled}
	}
	return b
}

// pestsOf are the pests of a book, each once, in its order.
func pestsOf(book *rules.Book) (pests []string) {
	for _, r := range book.Rules {
		if !slices.Contains(pests, r.Pest) {
			pests = append(pests, r.Pest)
		}
	}
	return pests
}

// stagesOfRule are the stages that a rule names; none where it holds at all.
func stagesOfRule(r rules.Rule) (stages []string) {
	for _, b := range r.Bands {
		stages = append(stages, b.Stages...)
	}
	return stages
}
