// Package roster reads what is known of fields beforehand: who grows them, by which rule or
// levels they are judged, at which growth stage they are, and when they were walked.
package roster

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// An Entry is what is known of a field; "" and 0 are not known.
type Entry struct {
	Field, Grower, Rule, Stage string
	Date                       string  // on which it was counted, ISO 8601
	TreatAt, WatchAt           float64 // in the unit of the counts
	At                         string  // file:line
}

// Judged reports whether the entry says how its field is judged.
func (e Entry) Judged() bool {
	return e.Rule != "" || e.Stage != "" || e.TreatAt != 0 || e.WatchAt != 0
}

// A List is the entries of a file, each of another field: of another name, or of another
// grower. [List.On] calls them as the fields of a boundary are called.
type List struct {
	File    string
	Entries []Entry
	Notes   []string
	of      map[string][]int // key of a name → its entries
	named   bool             // as the fields of a boundary are, so that case tells them apart
}

func (l *List) put(e Entry) {
	if l.of == nil {
		l.of = map[string][]int{}
	}
	k := key(e.Field)
	l.of[k] = append(l.of[k], len(l.Entries))
	l.Entries = append(l.Entries, e)
}

// columns are what is read, by their names. Synonyms are common practice, no source.
var columns = [...][]string{
	{"field", "name", "field_name", "fieldname", "label", "title"}, {"grower", "farmer"}, {"rule"}, {"stage", "growth_stage"},
	{"date", "day"}, {"treat_at", "threshold", "treat_level"}, {"watch_at", "watch_level"},
}

const (
	field = iota
	grower
	rule
	stage
	date
	treatAt
	watchAt
)

// Read reads a list of fields: a table with a row for each, or the properties of a file of
// boundaries. nameProperty is the column or property that names the fields, "" for the
// usual ones. Columns without a meaning are left out, which the notes of a table say; one
// that looks like a level is an error.
func Read(from geofile.Source, nameProperty string) (List, error) {
	cells, err := cellsOf(from)
	if err != nil {
		return List{}, err
	}
	l := List{File: cells.File, Notes: cells.Notes}
	var at [len(columns)]int
	for i, names := range columns {
		if at[i] = -1; i == field && nameProperty != "" {
			names = []string{nameProperty}
		}
		for _, name := range names { // the first that there is, in the order of trust
			if c := cells.Column(name); c >= 0 && at[i] < 0 {
				at[i] = c
			}
		}
	}
	if at[field] < 0 {
		return l, fmt.Errorf("%s: want a column field with the names of the fields, and grower, rule, stage, treat_at, watch_at or date beside it", l.File)
	}
	if slices.Max(at[grower:]) < 0 {
		return l, fmt.Errorf("%s: tells nothing of the fields: want a column grower, rule, stage, treat_at, watch_at or date", l.File)
	}
	if err := l.unused(cells, at[:]); err != nil {
		return l, err
	}
	for _, row := range cells.Rows {
		if err := l.add(cells, row, at); err != nil {
			return l, err
		}
	}
	if len(l.Entries) == 0 {
		return l, fmt.Errorf("%s: names no field", l.File)
	}
	return l, nil
}

func (l *List) add(cells survey.Cells, row survey.CellRow, at [len(columns)]int) (err error) {
	e := Entry{Field: row.At(at[field]), Grower: row.At(at[grower]), Rule: row.At(at[rule]), Stage: row.At(at[stage]), At: fmt.Sprintf("%s:%d", l.File, row.Line)}
	if e.Field == "" {
		return nil // notes, sums
	}
	for _, i := range l.of[key(e.Field)] {
		before := l.Entries[i]
		if !survey.SameName(e.Field, before.Field) { // the boundary tells whether they are two
			continue
		}
		if e.Grower == "" || before.Grower == "" || key(e.Grower) == key(before.Grower) {
			return standsTwice(e, before)
		}
	}
	for _, level := range []struct {
		column int
		to     *float64
	}{{treatAt, &e.TreatAt}, {watchAt, &e.WatchAt}} {
		if *level.to, err = number(row.At(at[level.column]), cells.DecimalComma); err != nil {
			return fmt.Errorf("%s: %s: %w", e.At, columns[level.column][0], err)
		}
	}
	if text := row.At(at[date]); text != "" {
		if e.Date, err = survey.ParseDay(text); err != nil {
			return fmt.Errorf("%s: date: %w", e.At, err)
		}
	}
	l.put(e)
	return nil
}

// number reads a level; "" is 0, none.
func number(text string, decimalComma bool) (float64, error) {
	if text == "" {
		return 0, nil
	}
	plain := text
	if strings.Count(text, ",") == 1 {
		plain = strings.Replace(text, ",", ".", 1)
	}
	v, err := strconv.ParseFloat(plain, 64)
	switch {
	case err != nil || !(v > 0 && v < 1e12):
		return 0, fmt.Errorf("%q: want a number above 0", text)
	case plain != text && !decimalComma:
		return 0, fmt.Errorf("%q: write %s, with a point", text, plain)
	}
	return v, nil
}

// Of is the entry of a field: by its name without regard to case and spaces, but once the
// entries are called as the fields of a boundary are, by its very name.
func (l List) Of(name string) (Entry, bool) {
	for _, i := range l.of[key(name)] {
		if !l.named || l.Entries[i].Field == name {
			return l.Entries[i], true
		}
	}
	return Entry{}, false
}

func key(name string) string { return survey.NameKey(name) }

// Growers are their names, each once, in the order of the file.
func (l List) Growers() (names []string) {
	seen := map[string]bool{"": true}
	for _, e := range l.Entries {
		if !seen[e.Grower] {
			seen[e.Grower], names = true, append(names, e.Grower)
		}
	}
	return names
}

func lineOf(e Entry) int {
	line, _ := strconv.Atoi(e.At[strings.LastIndex(e.At, ":")+1:]) // as it was written there
	return line
}

// Compare says which fields stand in the list alone, or in the boundary alone; a list of
// none of the boundary's is an error, and so is a name that a spreadsheet made of a field's.
func (l List) Compare(fields []string) (notes []string, err error) {
	var unknown, missing []string
	there := map[string]bool{}
	for _, name := range fields {
		there[key(name)] = true
	}
	for _, e := range l.Entries {
		if !there[key(e.Field)] {
			unknown = append(unknown, fmt.Sprintf("%q (line %s)%s", e.Field, strconv.Itoa(lineOf(e)), meant(e.Field, fields)))
		}
	}
	for _, name := range fields {
		if _, ok := l.Of(name); !ok {
			missing = append(missing, fmt.Sprintf("%q", name))
		}
	}
	for _, e := range l.Entries {
		if there[key(e.Field)] {
			continue
		}
		if i := slices.IndexFunc(fields, func(name string) bool { return survey.MadeOf(e.Field, name) }); i >= 0 {
			return nil, &geofile.Error{File: l.File, Line: lineOf(e), Msg: fmt.Sprintf("the boundary has no field called %q: a spreadsheet makes that of %q", e.Field, fields[i]), Hint: fmt.Sprintf("format the column as text, and write %s", fields[i])}
		}
	}
	if len(unknown) == len(l.Entries) {
		return nil, fmt.Errorf("%s: names none of the fields of the boundary, which are called %s", l.File, survey.Listed(missing))
	}
	if len(unknown) > 0 {
		notes = append(notes, fmt.Sprintf("%s: the boundary has no field called %s", l.File, survey.Listed(unknown)))
	}
	if len(missing) > 0 {
		notes = append(notes, fmt.Sprintf("%s: tells nothing of %s", l.File, survey.Listed(missing)))
	}
	return notes, nil
}
