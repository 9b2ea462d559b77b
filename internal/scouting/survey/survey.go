package survey

import (
	"errors"
	"fmt"
	"path/filepath"
	"slices"

	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/sorted"
)

// Options say how to read. The zero value is right for one pest and named stops.
type Options struct {
	// Pest chooses among several in the data, without regard to case; where the
	// data name none it names the pest.
	Pest string
	// UnnamedStops takes each position as a stop of its own where there is no
	// column for stops.
	UnnamedStops bool
	Columns      []string          // names of the columns of a CSV file without a header
	Rename       map[string]string // header in the file → name that is understood
	Missing      []string          // cells that mean that nothing was entered
	Unit         string            // what counts are of, such as leaf or plant; "" where it does not matter
	Parts        bool              // that are judged by their parts or by signs, so that rows may be of leaves
	KeptUnits    bool              // counts were read before: a column of something else than the unit is taken for it still
	Uncounted    bool              // a table needs no counts where it tells plants over a tally or with signs: totals are NaN then
	Shares       bool              // likewise, and what is wrong with these refuses a row, as it is they that are asked for
	UTM          string            // zone of eastings and northings, such as 14N
	UTCOffset    string            // of the clocks at the place, for times that tell one, such as -05:00; "" for the sun's
	DayOrder     DayOrder          // of dates that no date of their file tells
	Incoming     bool              // counts that come in, not kept ones: what may be half, or another table, is an error, and so is an order that their dates deny
	FixPosition  FixPosition       // offers another reading of positions; nil offers none
	Corrections  []Correction      // of cells, before anything else is made of them
	Correcting   Correcting        // how corrections find their files
	Places       *Places           // of stops, for tables without positions; nil for none
	Limits       Limits
	bare         bool   // the first row is the header, whatever it says
	taken        taken  // places, over all files that are read together
	asked        asked  // order of day and month of the file at hand
	proven       proven // by other files, for those that leave it open
}

// A Survey is what was read from one file or several.
type Survey struct {
	Files    []string
	Pest     string   // "" where the data name none
	Dates    []string // days on which was counted, ISO 8601, sorted; none if not given
	Stops    []Stop   // in the order in which they first appear
	Tally    Tally
	Problems []Problem // in the order of files and lines
	Unread   []Unread  // rows set aside that somebody may have counted on, in the same order
	Notes    []string  // how columns and values were understood
	Nones    []string  // those of words that were read as a count of 0, with which the notes begin
	// Corrected are the cells that were read otherwise than they stand in their files.
	Corrected []Correction
	Rough     []Rough       // files whose places were rounded
	Odd       []OddUnits    // stops whose leaves are far from those of the others
	Twice     []Twice       // stops that are there twice with different counts
	Slips     []Slip        // columns that look filled, or sorted by themselves
	Visits    []VisitColumn // columns that tell which visit rows without a day are of
	OpenDays  []OpenDay     // one of each file that leaves it open, whatever was asked
	// OneCell are the columns that hold both angles of a place, by their files; nil for none.
	OneCell map[string]OneCell
}

// A Tally counts the rows below the headers. Read = Used + SetAside + OtherPest.
type Tally struct {
	Read, Used, SetAside, OtherPest int
}

// Read reads tables of counts, one after the other, as one survey: CSV, a
// spreadsheet (.xlsx), or points of a feature file (GeoJSON, KML, KMZ, GPX,
// Shapefile, GeoPackage).
func Read(sources []geofile.Source, opts Options) (*Survey, error) {
	if len(sources) == 0 {
		return nil, errors.New("no file of counts is given")
	}
	opts.taken = taken{}
	corrections, err := opts.Correcting.Fit(opts.Corrections, sources)
	if err != nil {
		return nil, err
	}
	var given []string
	for _, from := range sources {
		given = append(given, cleaned(from.Name))
	}
	orders, err := opts.DayOrder.of(given, opts.Incoming)
	if err != nil {
		return nil, err
	}
	b, err := build(sources, opts, corrections, orders)
	if err == nil && b.proven.left && b.proven.first.file == "" {
		b.proven.first = b.sameMorning()
	}
	if err == nil && b.proven.serve() {
		opts.proven = b.proven.first
		b, err = build(sources, opts, corrections, orders)
	}
	if err != nil {
		return nil, err
	}
	if note := b.proven.note(); note != "" {
		b.survey.Notes = append(b.survey.Notes, note)
	}
	return b.finish()
}

// build collects the records of all tables.
func build(sources []geofile.Source, opts Options, corrections [][]Correction, orders []asked) (*builder, error) {
	b := newBuilder(opts, len(sources))
	names := labels(sources)
	for i, from := range sources {
		opts.Corrections, b.opts.asked = corrections[i], orders[i]
		t, err := readTable(names[i], from, opts)
		if err != nil {
			return nil, err
		}
		if err := b.add(t); err != nil {
			return nil, err
		}
	}
	return b, nil
}

// labels names files in messages: by their base, or as they were given where two
// share it.
func labels(sources []geofile.Source) []string {
	shared := map[string]int{}
	for _, s := range sources {
		shared[s.Base()]++
	}
	out := make([]string, len(sources))
	for i, s := range sources {
		out[i] = s.Base()
		if shared[out[i]] > 1 {
			out[i] = filepath.ToSlash(s.Name)
		}
	}
	return out
}

// builder collects records from tables.
type builder struct {
	opts     Options
	survey   Survey
	records  []Record
	repeats  *repeats
	repeated int // rows dropped as such
	proven   ordersProven
	planned  []Unread // stops that nobody walked, as it seems
}

func newBuilder(opts Options, tables int) *builder {
	return &builder{opts: opts, repeats: newRepeats(tables)}
}

func (b *builder) add(t table) error {
	t, again := withoutHeaders(t)
	t, ditto := withoutDittos(t, knower(b.opts.knows))
	if err := t.partPairs(b.opts); err != nil {
		return err
	}
	layout, notes, err := layOut(t, b.opts)
	if err != nil {
		return err
	}
	for _, note := range []string{again, ditto} {
		if note != "" {
			notes = append(notes, note)
		}
	}
	if len(t.Rows)+len(t.Broken) == 0 {
		return fmt.Errorf("%s: no rows below the header: enter what was counted, a row for each leaf, plant or stop", t.File)
	}
	note, err := layout.checkPasted(t.File, t.Rows, b.opts)
	if err != nil {
		return err
	}
	if note != "" {
		notes = append(notes, note)
	}
	if err := b.repeats.open(t); err != nil {
		return err
	}
	b.proven.add(&layout)
	s := &b.survey
	s.Files = append(s.Files, t.File)
	s.keepOneCell(t)
	s.Notes = append(append(s.Notes, t.Notes...), notes...)
	s.Corrected = append(s.Corrected, t.corrected...)
	slips, said := filledOf(t, &layout)
	s.Slips = append(s.Slips, slips...)
	s.Notes = append(append(s.Notes, said...), layout.unknownKind(t)...)
	if rough, ok := roughOf(t, &layout); ok && layout.utm == nil {
		s.Rough, s.Notes = append(s.Rough, rough), append(s.Notes, rough.note())
	}
	if layout.openDay.Text != "" {
		s.OpenDays = append(s.OpenDays, layout.openDay)
	}
	s.Tally.Read += len(t.Rows) + len(t.Broken)
	s.Tally.SetAside += len(t.Broken)
	s.Problems = append(append(s.Problems, t.Broken...), t.doubts...)
	s.Unread = append(s.Unread, t.Unread...)
	b.planned = append(b.planned, t.planned...)
	if t.Rows, note = layout.typedOnce(t); note != "" {
		s.Notes = append(s.Notes, note)
	}
	if t.Rows, note = layout.leavesOnce(t); note != "" {
		s.Notes = append(s.Notes, note)
	}
	records, problems, err := layout.records(t)
	if err != nil {
		return err
	}
	if note := zerosOf(t, &layout, problems); note != "" {
		s.Notes = slices.Insert(s.Notes, len(s.Nones), note) // before what only says how files are laid out
		s.Nones = append(s.Nones, note)
	}
	if v, found := visitColumnOf(t, &layout, records); found {
		s.Visits = append(s.Visits, v)
	}
	b.keep(t, &layout, records, problems)
	return nil
}

// keep takes the rows of a table that can be used, and the problems of all. The
// records move up in their slice, as copies of a long table's would cost more than
// reading it.
func (b *builder) keep(t table, l *layout, records []Record, problems [][]Problem) {
	all := numbered(records) || addresses(l, records)
	if all {
		b.repeats.expect(len(records))
	}
	used := records[:0]
	for i := range records {
		record, found := &records[i], problems[i]
		refused := slices.ContainsFunc(found, Problem.refuses)
		if refused && !record.Sum {
			b.lose(t, l, t.Rows[i], l.unread(t, t.Rows[i], *record, found))
		}
		if !refused {
			if first := b.firstOf(t, t.Rows[i], all || record.numbered()); first.line > 0 {
				b.repeated++
				found, refused = append(found, l.problem(t, t.Rows[i], colStop).refuse(
					fmt.Sprintf(sameRow, first.from(t.File)), "drop one of the two, or number plants and leaves")), true
			}
		}
		b.survey.Problems = append(b.survey.Problems, found...)
		if refused {
			b.survey.Tally.SetAside++
			continue
		}
		used = moveUp(used, records, i)
	}
	if len(b.records) == 0 {
		b.records = used
		return
	}
	b.records = append(b.records, used...)
}

// lose keeps a refused row among those that somebody may have counted on, if it is one.
func (b *builder) lose(t table, l *layout, r row, u Unread) {
	switch {
	case l.isNotWalked(t, r, u), l.isRemark(r, u) && isDigits(u.Row.Stop):
		b.planned = append(b.planned, u)
	case !l.isRemark(r, u):
		b.survey.Unread = append(b.survey.Unread, u)
	}
}

// firstOf is where a row alike stood before, if that is a sign of a repeat; a place without a
// line is none.
func (b *builder) firstOf(t table, r row, sign bool) place {
	if !sign {
		return place{}
	}
	return b.repeats.firstOf(t, r)
}

// moveUp appends records[i] to kept, which is the beginning of records; one that
// stands there already is not moved.
func moveUp(kept, records []Record, i int) []Record {
	n := len(kept)
	if n < i {
		records[n] = records[i]
	}
	return records[:n+1]
}

func (b *builder) finish() (*Survey, error) {
	kept, err := b.choosePest()
	if err != nil {
		return nil, err
	}
	s := &b.survey
	kept = b.withoutCopies(kept)
	s.Tally.Used = len(kept)
	b.leaveOutNotWalked(kept)
	var problems []Problem
	s.Notes = append(s.Notes, sameDay(kept)...)
	s.Stops, problems = gather(kept)
	s.Odd = oddUnits(s.Stops, s.Unread)
	s.Problems = append(s.Problems, problems...)
	order := map[string]int{}
	for i, f := range s.Files {
		order[f] = i
	}
	sorted.Stably(s.Problems, func(a, c Problem) int { return byLine(order, a, c) })
	s.Unread = ofPest(s.Unread, s.Pest)
	sorted.Stably(s.Unread, func(a, c Unread) int { return byLine(order, a.Problem, c.Problem) })
	s.Dates = datesOf(kept)
	out := *s // by itself: the builder with all that it knew of rows is done with
	return &out, nil
}

func datesOf(records []Record) []string {
	var dates []string // in a row each but once: many rows share a day
	last := ""
	for i := range records {
		if day := records[i].Date; day != "" && day != last {
			dates = append(dates, day)
			last = day
		}
	}
	slices.Sort(dates)
	return slices.Compact(dates)
}
