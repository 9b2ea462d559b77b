package engine

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"iter"
	"slices"
	"sync"

	"golang.org/x/sync/errgroup"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/mapping/verdict"
	"github.com/geocoris/geocoris/internal/output/report"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// A MapRequest asks for the map of a morning.
type MapRequest struct {
	Setup
	Samples  []Source
	Boundary Source
	Config   *Source // the file that settings came from, for the record; nil for none
	Version  string  // of the program, for the record
	Today    string  // the day on the calendar, ISO 8601; "" says nothing of days far from it
	Progress func(done, total int)
	Jobs     int  // fields that are worked on at once; 0 is as many as there are cores
	Part     Part // of the fields; the names of those in it are kept as the setting only
	OfMany   bool // the fields are some of those that are mapped, as of one grower of several
	// Over is asked before a part is worked out, with the names of all fields and of those in
	// it; its error ends the work. Nil allows all.
	Over func(all, written []string) error
	// AsWritten leaves files to be made as they are written, so that none is held in memory.
	AsWritten bool
	// Keep is asked for what keeps the work on so many fields with counts, before it begins,
	// with all that it depends on; nil, or one that answers nil, keeps nothing. It is not
	// asked where pictures are drawn, as these take more than is kept.
	Keep func(fields int, of []Depends) (Keep, error)
}

// A Keep holds what was worked out, by names, so that a run that was stopped goes on where
// it was. Several goroutines ask it.
type Keep interface {
	Load(name string) (piece []byte, ok bool)
	Save(name string, piece []byte) error
}

// A Depends is a thing that a map depends on, such as a file or a setting, and the digest
// of what it holds.
type Depends struct{ What, SHA256 string }

// A MapOutcome is the map of a morning.
type MapOutcome struct {
	Result   *assess.Result
	Verdicts []verdict.Verdict
	Notes    []string // on the boundary
	Files    []File
	// Make writes files by their names, where they were asked for so: Content is nil then.
	// Each may be made again; run.json is to be the last one, as it vouches for the others.
	Make    map[string]func(io.Writer) error
	FarDays []string // lines on days of the counts that lie far from today
}

// SetAside is how many rows could not be used.
func (o *MapOutcome) SetAside() int { return o.Result.Tally().SetAside }

// ClosedFile is the name of the file with what was drawn with the fields and is none,
// where there is any: zones do not show a pond across an edge, and a boom reaches there.
const ClosedFile = "closed.geojson"

// MapFiles are all names that Map may give files, those of [PictureFiles] and of [MapFolder.Pictures] besides.
var MapFiles = [...]string{"zones.geojson", "zones.kml", "zones.kmz", "stops.geojson", ClosedFile, sequenceFile, packageFile, "summary.json", "run.json"}

// Check refuses what is asked for wrongly, before any file is read.
func (q *MapRequest) Check() error {
	if err := q.Settings.Validate(); err != nil {
		return err
	}
	if _, err := q.Settings.wanted(); err != nil {
		return usage(err)
	}
	return nil
}

// MapData is Map without the files to be looked at.
func MapData(ctx context.Context, q MapRequest) (*MapOutcome, error) {
	if len(q.Settings.Write) > 0 {
		return nil, usage(fmt.Errorf("--write %s: this program draws no pictures", q.Settings.Write[0]))
	}
	return mapped(ctx, q, func(*morning, *assess.Result, MapRecord, ground) ([]rendering, error) { return nil, nil })
}

// A drawer makes the files to be looked at of a morning.
type drawer func(m *morning, r *assess.Result, made MapRecord, g ground) ([]rendering, error)

func mapped(ctx context.Context, q MapRequest, draw drawer) (*MapOutcome, error) {
	if err := q.Check(); err != nil {
		return nil, err
	}
	g, err := q.Setup.ground(q.Boundary)
	if err != nil {
		return nil, err
	}
	if q.Settings.Only, err = q.Part.only(g.Outlines, q.Settings.Only); err != nil {
		return nil, q.Part.explained(err)
	}
	if q.Over != nil && q.Part.Of > 0 {
		if err := q.Over(outlineNames(g.Outlines), q.Settings.Only); err != nil {
			return nil, err
		}
	}
	counts, err := q.read(&g, q.Samples)
	if err != nil {
		return nil, err
	}
	if err := g.hold(counts); err != nil {
		return nil, err
	}
	m := morning{Setup: q.Setup, part: q.Part, jobs: q.Jobs, ofMany: q.OfMany || q.Part.Of > 0}
	if m.keep, err = keepOf(q); err != nil {
		return nil, err
	}
	// Large files and the stops as they were read are let go of meanwhile.
	far, inputs := counts.FarDays(q.Today), q.recorded()
	q.Samples = nil
	result, err := m.work(ctx, g, counts, q.Progress)
	if err != nil {
		return nil, q.Part.explained(err)
	}
	result.Notes = slices.Concat(g.Warnings, result.Notes, m.tooLate(result), m.leftOut(result))
	run, err := recordOf(q, inputs, m.Settings, g, result)
	if err != nil {
		return nil, err
	}
	made := &MapOutcome{Result: result, Verdicts: m.answers, Notes: g.Notes, FarDays: far}
	return made, m.files(made, run, g, draw, q.AsWritten)
}

// NothingUsable is counts of which nothing came, with the rows that were refused.
type NothingUsable struct {
	Err      error
	Problems []survey.Problem
}

func (e NothingUsable) Error() string { return e.Err.Error() }

// Unwrap is why nothing came of them.
func (e NothingUsable) Unwrap() error { return e.Err }

// Lines are the rows that were refused, those that are alike together.
func (e NothingUsable) Lines() (lines []string) {
	for _, alike := range survey.TogetherAlike(e.Problems) {
		lines = append(lines, fmt.Sprint(alike))
	}
	return lines
}

// A morning is one visit being worked out. A rule is taken into a copy of the
// settings, so each visit goes by its own stage.
type morning struct {
	Setup
	fields   []geo.Field
	part     Part                // of the fields, which the setting only names
	jobs     int                 // fields at once; 0 is as many as there are cores
	ofMany   bool                // other fields are mapped by themselves
	compared bool                // with other visits, so that its surfaces are kept
	staged   []string            // notes on the stage of each field
	infested float64             // share of units that the rule wants infested besides
	own      map[string]*morning // of fields that are judged by themselves; nil for none
	answers  []verdict.Verdict
	keep     func(fields int) (Keep, error) // nil keeps nothing
}

// work takes a survey to the map of its fields and the verdicts.
func (m *morning) work(ctx context.Context, g ground, counts *survey.Survey, progress func(done, total int)) (*assess.Result, error) {
	asked, err := m.inAsked(g, counts)
	if err != nil {
		return nil, err
	}
	if m.Incoming {
		if err := oneVisit(g.Fields, asked, m.Settings.OneVisit); err != nil {
			return nil, err
		}
	}
	m.fields = g.Fields
	set, notes, err := m.byRule(m.Settings.assess(), asked)
	if err != nil {
		return nil, err
	}
	set.Progress, set.Memory, set.Jobs = progress, m.Memory, m.jobs
	set.OfMany = m.ofMany
	switch {
	case m.part.Of > 0:
		set.OnlyBy = m.part.flag()
	case m.ofMany:
		set.OnlyBy = "--by-grower"
	}
	set.KeepSurface = set.KeepSurface || m.compared
	set.Forget = !set.KeepSurface
	return m.workBy(ctx, set, g, counts, notes)
}

// inAsked are the counts less those of fields that are not asked for: a rule goes by the
// others alone. They are assessed from all, as a row that was not read may be of any field.
func (m *morning) inAsked(g ground, counts *survey.Survey) (*survey.Survey, error) {
	only := m.Settings.Only
	if only == nil {
		return counts, nil
	}
	placed, _, err := assess.Place(g.Fields, counts.Stops)
	if err != nil {
		return nil, err
	}
	var names []string
	for _, f := range g.Fields {
		names = append(names, f.Name)
	}
	in, err := assess.In(names, placed, counts, only)
	if err != nil {
		return nil, usage(fmt.Errorf("--only: %w", err))
	}
	return in, nil
}

// workBy is work with the settings of the assessment at hand.
func (m *morning) workBy(ctx context.Context, set assess.Settings, g ground, counts *survey.Survey, notes []string) (*assess.Result, error) {
	bench := m.bench(g)
	set.Each = bench.take
	m.keepIn(&set, bench)
	nothing, problems := len(counts.Stops) == 0, counts.Problems // counts are let go of meanwhile
	r, err := m.assess(ctx, g.Fields, counts, set)
	if err != nil && nothing {
		err = NothingUsable{err, problems}
	}
	if err != nil {
		return nil, err
	}
	m.answers = bench.answers(r)
	r.Notes = slices.Concat(notes, m.staged, seenNotes(r), extraNotes(r), r.Notes)
	return r, nil
}

// extraNotes tell of each field whose mean leaves out stops that were marked as extra, or
// that stand together.
func extraNotes(r *assess.Result) (notes []string) {
	for _, f := range r.Fields {
		if marked := f.MarkedExtra(); marked > 0 {
			notes = append(notes, fmt.Sprintf("field %q: %s", f.Name, report.ExtraStopsText(marked)))
		}
		for _, t := range f.Together {
			notes = append(notes, fmt.Sprintf("field %q: %s", f.Name, report.TogetherText(f.Stops[t.At].Name, t)))
		}
	}
	return notes
}

// A rendering is a file to be made.
type rendering struct {
	name  string
	write func(io.Writer) error
}

// files renders everything, side by side, or leaves it to be made as it is written.
func (m *morning) files(made *MapOutcome, run MapRecord, g ground, draw drawer, asWritten bool) (err error) {
	renderings, last, err := m.renderings(made.Result, run, g, draw, asWritten)
	if err != nil {
		return err
	}
	if asWritten {
		made.leave(renderings, last, &run)
		return nil
	}
	if made.Files, err = render(renderings); err != nil {
		return err
	}
	run.Outputs = outputsOf(made.Files)
	record, err := render([]rendering{recordFile(&run)})
	made.Files = slices.Insert(made.Files, last, record...)
	return err
}

func recordFile(run *MapRecord) rendering {
	return rendering{"run.json", func(w io.Writer) error { return report.WriteJSON(w, run) }}
}

// renderings are all files but the record, which stands at the place last.
func (m *morning) renderings(r *assess.Result, run MapRecord, g ground, draw drawer, asWritten bool) (all []rendering, last int, err error) {
	said := figures.Both.In(m.Settings.Language)
	document := report.DocumentWithVerdicts(report.Document(r, said), m.answers, said)
	zones := m.withAnswers(inTurn(report.EachZone(r), report.EachNoneRead(r)), g)
	kml := kmlFiles(document)
	if asWritten { // each by itself
		kml = kmlFilesAlone(document)
	}
	all = slices.Concat([]rendering{{"zones.geojson", features(zones)}}, kml, []rendering{
		{"stops.geojson", features(inTurn(report.EachStop(r), report.EachUnread(r)))},
		{"summary.json", func(w io.Writer) error { return report.WriteSummary(w, r, m.answers...) }},
	})
	last = len(all)
	if len(g.Closed) > 0 {
		all = append(all, rendering{ClosedFile, collection(featuresOf(g.Closed))})
	}
	more, err := draw(m, r, run, g)
	return append(all, more...), last, err
}

// withAnswers are zones with the verdict of their field, and what else files say of it.
func (m *morning) withAnswers(zones iter.Seq[geo.Feature], g ground) iter.Seq[geo.Feature] {
	return report.EachWith(zones, report.VerdictsOn(m.answers), report.OverlapsOn(g.Overlaps), report.KeptOn(g.Kept))
}

func collection(features []geo.Feature) func(io.Writer) error {
	return func(w io.Writer) error {
		return geofile.WriteGeoJSON(w, geofile.FeatureCollection{Features: features})
	}
}

// features writes features that are made as they are asked for.
func features(all iter.Seq[geo.Feature]) func(io.Writer) error {
	return func(w io.Writer) error { return geofile.WriteFeatures(w, all, nil) }
}

// inTurn is one sequence after the other.
func inTurn(all ...iter.Seq[geo.Feature]) iter.Seq[geo.Feature] {
	return func(yield func(geo.Feature) bool) {
		for _, some := range all {
			for f := range some {
				if !yield(f) {
					return
				}
			}
		}
	}
}

// featuresOf are fields, or ground that is none, as features with their names.
func featuresOf(fields []geo.Field) (features []geo.Feature) {
	for _, f := range fields {
		features = append(features, geo.Feature{Geometry: f.Boundary, Properties: geo.Properties{{Name: "name", Value: f.Name}}})
	}
	return features
}

// leave leaves files to be made; each is added to the record when it is.
func (o *MapOutcome) leave(renderings []rendering, last int, run *MapRecord) {
	o.Make = map[string]func(io.Writer) error{}
	made := map[string]Input{}
	var mu sync.Mutex // files are made side by side
	for _, f := range renderings {
		o.Files = append(o.Files, File{Name: f.name})
		o.Make[f.name] = func(w io.Writer) error {
			t := newDigester(w)
			if err := f.write(t); err != nil {
				return fmt.Errorf("%s: %w", f.name, err)
			}
			mu.Lock()
			defer mu.Unlock()
			made[f.name] = t.input(f.name)
			run.Outputs = inOrder(renderings, made)
			return nil
		}
	}
	record := recordFile(run)
	o.Files = slices.Insert(o.Files, last, File{Name: record.name})
	o.Make[record.name] = record.write
}

// inOrder are the files that a record vouches for, of those that were made.
func inOrder(renderings []rendering, made map[string]Input) []Input {
	all := []Input{}
	for _, f := range renderings {
		if of, is := made[f.name]; is && slices.Contains(MapFiles[:], f.name) {
			all = append(all, of)
		}
	}
	return all
}

// render makes all files side by side; they come in their order.
func render(renderings []rendering) ([]File, error) {
	files := make([]File, len(renderings))
	var g errgroup.Group
	for i, f := range renderings {
		g.Go(func() error {
			var b bytes.Buffer
			if err := f.write(&b); err != nil {
				return fmt.Errorf("%s: %w", f.name, err)
			}
			files[i] = File{Name: f.name, Content: b.Bytes()}
			return nil
		})
	}
	return files, g.Wait()
}
