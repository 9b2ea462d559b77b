//go:build !small

package engine

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/followup/compare"
	"github.com/geocoris/geocoris/internal/followup/season"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/output/report"
)

// A SeasonReader is an open season.
type SeasonReader interface {
	Fields() ([]geo.Field, error)
	List() ([]season.Line, error)
	Visit(id int64) (season.Visit, error)
	Records() ([]season.Record, error)
	Beside() ([]season.Beside, error) // several visits that tell of a field on one day
}

// InDatabase tells whether a season is named by the address of a database.
func InDatabase(path string) bool { return season.IsAddress(path) }

// SeasonName is what messages and records call a season, without folder or password.
func SeasonName(path string) string { return season.Name(path) }

// SeasonTyped is a season as a command takes it, without a password.
func SeasonTyped(path string) string { return season.Typed(path) }

// SeasonNotes are what an open season has to say, such as of rows that were left out as
// they are not what was stored.
func SeasonNotes(s any) []string {
	if told, ok := s.(interface{ Notes() []string }); ok {
		return told.Notes()
	}
	return nil
}

// Redacted is a text for people, without the passwords in what was typed wrongly.
func Redacted(text string) string { return season.Redacted(text) }

// A VisitRequest asks for a visit to be worked out, to be kept in a season.
type VisitRequest struct {
	Setup
	Samples  []Source
	Boundary Source
	Today    string // as for [MapRequest]
	Author   string // who brings it; "" where nobody says
}

// told is what is said of counts that were worked out: a line on their rows and one on each
// that was set aside or doubted, none where all were used; and how they were understood.
type told struct{ rows, notes []string }

// VisitOf works the counts out once, so that nothing is kept that cannot be used. The
// bytes that are kept are those that were worked out.
func VisitOf(ctx context.Context, q VisitRequest) (v season.Visit, err error) {
	v, _, err = visitOf(ctx, q)
	return v, err
}

// visitOf is VisitOf, and says what became of the rows and how they were understood.
func visitOf(ctx context.Context, q VisitRequest) (v season.Visit, said told, err error) {
	if err := signable(q.Author); err != nil {
		return v, said, err
	}
	if err := q.Settings.Validate(); err != nil {
		return v, said, err
	}
	w := q.Setup
	if w.Settings.Only != nil {
		return v, said, usage(errors.New("--only: a season keeps all fields of a visit; leave it out, and give it to compare"))
	}
	for _, s := range q.Samples {
		v.Files = append(v.Files, season.File{Name: s.Base(), Content: s.Content})
	}
	for _, n := range w.Settings.NamedFiles() {
		if from, ok := w.Named[n.Setting]; ok && *n.Path != "" {
			v.SettingsFiles = append(v.SettingsFiles, season.SettingsFile{Setting: n.Setting, File: season.File{Name: from.Base(), Content: from.Content}})
			*n.Path = from.Base()
		}
	}
	g, err := w.ground(q.Boundary)
	if err != nil {
		return v, said, err
	}
	if err := w.correctable(q.Samples); err != nil {
		return v, said, err
	}
	w.correcting = keptCorrecting
	counts, err := w.read(&g, bare(v.Files))
	if err != nil {
		return v, said, err
	}
	if err := g.hold(counts); err != nil {
		return v, said, err
	}
	m := morning{Setup: w}
	r, err := m.work(ctx, g, counts, nil)
	if err != nil {
		return v, said, err
	}
	if err := allDated(r); err != nil {
		return v, said, err
	}
	said = told{rows: report.RowLines(r, figures.Both.In(w.Settings.Language)), notes: slices.Concat(g.Warnings, r.Notes, g.Notes, r.Survey.Notes, r.Survey.OddNotes(), counts.FarDays(q.Today))}
	v.Fields, v.Zones = g.Fields, report.ZoneFeatures(r)
	v.Kept = keptTexts(g.Kept)
	v.Verdicts, v.Author = report.SeasonVerdicts(r, m.answers), season.Authors(q.Author)
	v.Date, v.Pest, v.Unit = report.Dates(r), r.Survey.Pest, report.StatisticOf(r)
	if v.Stops, err = report.SeasonStops(r); err != nil {
		return v, said, err
	}
	v.Settings, err = keptSettings(w.Settings)
	return v, said, err
}

// allDated refuses a visit with stops in a field that tell no day: a season that holds them can
// never be compared.
func allDated(r *assess.Result) error {
	var without []string
	stops := 0
	for _, f := range r.Fields {
		stops += len(f.Stops)
		for _, s := range f.Stops {
			if s.Date == "" {
				without = append(without, s.Name)
			}
		}
	}
	counts := strings.Join(r.Survey.Files, ", ")
	switch len(without) {
	case 0:
		return nil
	case stops:
		return hinted(fmt.Errorf("no row of %s has its day, and a season goes by days", counts), "nothing was added; give the counts a column date")
	}
	return hinted(fmt.Errorf("%s: %d of %d stops do not give their day, such as stop %s, and a season goes by days", counts, len(without), stops, without[0]), "nothing was added; fill in the column date")
}

// keptTexts are the properties that go with fields to the applicator, as a season has them.
func keptTexts(kept map[string]geo.Properties) map[string]geo.Properties {
	texts := map[string]geo.Properties{}
	for field, properties := range kept {
		for _, p := range properties {
			text := fmt.Sprint(p.Value)
			if v, is := p.Value.(float64); is {
				text = strconv.FormatFloat(v, 'f', -1, 64)
			}
			texts[field] = append(texts[field], geo.Property{Name: p.Name, Value: text})
		}
	}
	return texts
}

// bare are files as a season gives them back: without what stood beside them.
func bare(files []season.File) (all []Source) {
	for _, f := range files {
		all = append(all, Source{Name: f.Name, Content: f.Content})
	}
	return all
}

// TreatmentsOf are the treatments that a file of treated ground tells of; on is the day
// of those that tell none.
func TreatmentsOf(from Source, on string) ([]compare.Treatment, error) {
	ground, err := geofile.DecodeSource(from, geofile.Limits{})
	if err != nil {
		return nil, err
	}
	treatments, err := compare.Treatments(ground.Features, on)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", ground.Name, err)
	}
	return treatments, nil
}

// Kept is a visit's settings with the files that the season keeps for them.
func Kept(v season.Visit) (w Setup, err error) {
	w.Named, w.Kept = map[string]Source{}, map[string]bool{}
	if w.Settings, err = storedSettings([]byte(v.Settings)); err != nil {
		return w, fmt.Errorf("visit %d: %w", v.ID, err)
	}
	for _, f := range v.SettingsFiles {
		for _, n := range w.Settings.NamedFiles() {
			if n.Setting == f.Setting {
				*n.Path = f.Name
				w.Named[n.Setting], w.Kept[n.Setting] = Source{Name: f.Name, Content: f.Content}, true
			}
		}
	}
	return w, nil
}

// ChosenVisit is the visit of a number, or the last one where none is given.
func ChosenVisit(s SeasonReader, number ...int64) (season.Visit, error) {
	if len(number) > 0 {
		return s.Visit(number[0])
	}
	lines, err := s.List()
	if err != nil {
		return season.Visit{}, err
	}
	if len(lines) == 0 {
		return season.Visit{}, errors.New("the season has no visits yet")
	}
	return s.Visit(lines[len(lines)-1].ID)
}

// ShowVisit works a visit out from its counts, with the fields and by the settings of w.
func ShowVisit(ctx context.Context, w Setup, v season.Visit) (*MapOutcome, error) {
	g := groundOfSeason(v.Fields)
	w.correcting = keptCorrecting
	counts, err := w.read(&g, bare(v.Files))
	if err != nil {
		return nil, err
	}
	m := morning{Setup: w}
	r, err := m.work(ctx, g, counts, nil)
	if err != nil {
		return nil, err
	}
	out := &MapOutcome{Result: r, Verdicts: m.answers}
	for _, f := range v.Files {
		out.Files = append(out.Files, File{f.Name, f.Content})
	}
	return out, nil
}
