// Package survey turns tables of counts into stops: rows are read with their
// line numbers, columns are told by their headers, each row is held to what a
// count must be, and the rows of one stop are put together.
//
// No row vanishes. A row that cannot be used is refused with file, line, column,
// value and the mend, and the tally of rows read, used and set aside always adds
// up. A blank is not a zero.
//
// Positions are degrees, longitude and latitude on WGS 84; the package knows
// nothing of fields or metres but for the distance between two rows of one stop.
package survey

import (
	"fmt"
	"io"
	"slices"
	"strings"
)

// Options say how to read. The zero value is right for one pest and named stops.
type Options struct {
	// Pest chooses among several in the data, without regard to case; where the
	// data name none it names the pest.
	Pest string
	// UnnamedStops takes each position as a stop of its own where there is no
	// column for stops.
	UnnamedStops bool
	Limits       Limits
}

// A Survey is what was read from one file or several.
type Survey struct {
	Files    []string
	Pest     string   // "" where the data name none
	Dates    []string // days on which was counted, ISO 8601, sorted; none if not told
	Stops    []Stop   // in the order in which they first appear
	Tally    Tally
	Problems []Problem // in the order of files and lines
	Notes    []string  // how columns and values were understood
}

// A Tally counts the rows below the headers. Read = Used + SetAside + OtherPest.
type Tally struct {
	Read, Used, SetAside, OtherPest int
}

// ReadFiles reads tables of counts in CSV, one after the other, as one survey.
func ReadFiles(paths []string, opts Options) (*Survey, error) {
	b := newBuilder(opts)
	for _, path := range paths {
		t, err := readTableFile(path, opts.Limits.withDefaults())
		if err != nil {
			return nil, err
		}
		if err := b.add(t); err != nil {
			return nil, err
		}
	}
	return b.finish()
}

// Decode reads one table of counts in CSV; name stands for it in messages.
func Decode(name string, r io.Reader, opts Options) (*Survey, error) {
	t, err := decodeTable(name, r, opts.Limits.withDefaults())
	if err != nil {
		return nil, err
	}
	b := newBuilder(opts)
	if err := b.add(t); err != nil {
		return nil, err
	}
	return b.finish()
}

// builder collects records from tables.
type builder struct {
	opts    Options
	survey  Survey
	records []Record
}

func newBuilder(opts Options) *builder { return &builder{opts: opts} }

func (b *builder) add(t table) error {
	layout, notes, err := layOut(t, b.opts.UnnamedStops)
	if err != nil {
		return err
	}
	b.survey.Files = append(b.survey.Files, t.File)
	b.survey.Notes = append(b.survey.Notes, t.Notes...)
	b.survey.Notes = append(b.survey.Notes, notes...)
	b.survey.Tally.Read += len(t.Rows) + len(t.Broken)
	b.survey.Problems = append(b.survey.Problems, t.Broken...)
	b.survey.Tally.SetAside += len(t.Broken)
	repeats := newRepeats(t, layout)
	for _, row := range t.Rows {
		record, problems := layout.record(t, row)
		if first := repeats.firstOf(row); first > 0 && len(problems) == 0 {
			problems = append(problems, layout.problem(t, row, colStop).refuse(
				fmt.Sprintf("the same row as line %d once more", first), "drop one of the two, or number the leaves"))
		}
		b.survey.Problems = append(b.survey.Problems, problems...)
		if slices.ContainsFunc(problems, Problem.refuses) {
			b.survey.Tally.SetAside++
			continue
		}
		b.records = append(b.records, record)
	}
	return nil
}

func (b *builder) finish() (*Survey, error) {
	kept, err := b.choosePest()
	if err != nil {
		return nil, err
	}
	s := &b.survey
	s.Tally.Used = len(kept)
	var problems []Problem
	s.Stops, problems = gather(kept)
	s.Problems = append(s.Problems, problems...)
	slices.SortStableFunc(s.Problems, func(a, c Problem) int {
		if a.File != c.File {
			return slices.Index(s.Files, a.File) - slices.Index(s.Files, c.File)
		}
		return a.Line - c.Line
	})
	s.Dates = datesOf(kept)
	return s, nil
}

func datesOf(records []Record) []string {
	var dates []string
	for _, r := range records {
		if r.Date != "" {
			dates = append(dates, r.Date)
		}
	}
	slices.Sort(dates)
	return slices.Compact(dates)
}

// choosePest keeps the records of one pest.
func (b *builder) choosePest() ([]Record, error) {
	names := map[string]string{} // folded name → as first written
	var order []string
	blank := 0
	for _, r := range b.records {
		key := fold(r.Pest)
		if key == "" {
			blank++
		} else if _, known := names[key]; !known {
			names[key] = r.Pest
			order = append(order, key)
		}
	}
	want := fold(b.opts.Pest)
	switch {
	case len(order) == 0:
		b.survey.Pest = strings.TrimSpace(b.opts.Pest)
		return b.records, nil
	case want == "" && len(order) > 1:
		return nil, fmt.Errorf("the samples name %d pests: %s; choose one with --pest", len(order), listOf(names, order))
	case want == "":
		want = order[0]
	case names[want] == "":
		return nil, fmt.Errorf("no row is of %q; the samples name: %s", b.opts.Pest, listOf(names, order))
	}
	b.survey.Pest = names[want]
	if len(order) == 1 && blank > 0 {
		b.survey.Notes = append(b.survey.Notes, fmt.Sprintf("%d rows name no pest: taken as %s, like the others", blank, names[want]))
	}
	return b.onlyPest(want, len(order) == 1), nil
}

// onlyPest parts the records of one pest from the others. A row without a name
// among several pests could be of any of them.
func (b *builder) onlyPest(want string, only bool) (kept []Record) {
	for _, r := range b.records {
		switch key := fold(r.Pest); {
		case key == want || key == "" && only:
			kept = append(kept, r)
		case key == "":
			b.survey.Tally.SetAside++
			p := Problem{File: r.File, Line: r.Line, Column: "pest"}
			b.survey.Problems = append(b.survey.Problems, p.refuse("the row does not say which pest was counted", "name the pest"))
		default:
			b.survey.Tally.OtherPest++
		}
	}
	return kept
}

func fold(name string) string { return strings.ToLower(strings.Join(strings.Fields(name), " ")) }

func listOf(names map[string]string, order []string) string {
	var out []string
	for _, key := range order {
		out = append(out, fmt.Sprintf("%q", names[key]))
	}
	return strings.Join(out, ", ")
}
