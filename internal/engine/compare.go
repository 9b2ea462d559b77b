//go:build !small

package engine

import (
	"context"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/followup/compare"
	"github.com/geocoris/geocoris/internal/followup/paired"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/mapping/verdict"
	view "github.com/geocoris/geocoris/internal/output/page"
	"github.com/geocoris/geocoris/internal/output/report"
)

// CompareSettings are those of compare beside those of map.
type CompareSettings struct {
	Dates     []string `json:"dates,omitempty"`
	Match     float64  `json:"match-within"`
	ByName    bool     `json:"match-by-name"`
	Seed      uint64   `json:"seed"`
	Treated   string   `json:"treated"`
	TreatedOn string   `json:"treated-on"`
	Forecast  string   `json:"forecast"`
	Cells     bool     `json:"cells"`
	Without   []int64  `json:"without,omitempty"` // visits of a season, by their numbers
}

// CompareDefaults are the settings of compare where nothing is asked for.
func CompareDefaults() CompareSettings {
	return CompareSettings{Match: compare.DefaultWithin, Seed: 1}
}

// A CompareRequest asks for several visits to be compared.
type CompareRequest struct {
	Setup
	Weeks    []Week
	Boundary *Source // nil where a folder or a season among the weeks tells the fields
	Treated  *Source // ground that was treated; nil for none
	Config   *Source
	Compare  CompareSettings
	Version  string

	Adopted Settings                  // those of the newest visit that keeps any
	Asked   func(setting string) bool // whether the call gives a setting for all visits; nil is none
}

// A CompareOutcome is what changed.
type CompareOutcome struct {
	Result   *compare.Result
	Now      []verdict.Verdict // of the last visit to each field
	Notes    []string
	Files    []File
	SetAside int // rows that could not be used
}

// CompareRecord is run.json of compare.
type CompareRecord struct {
	Program  string          `json:"program"`
	Version  string          `json:"version"`
	Command  string          `json:"command"`
	Inputs   []Input         `json:"inputs"`
	Settings Settings        `json:"settings"`
	Compare  CompareSettings `json:"compare"`
	Files    []string        `json:"files"` // that it wrote, so that the next run knows which are its own
}

// CompareFiles are all names that Compare may give files, but for those of [CellsFile].
var CompareFiles = [...]string{"change.geojson", "hotspots.geojson", "forecast.geojson", "change.kml", "compare.json", "run.json", reportFile}

// CellsFile is the name of the file of the nodes of a field, counted from 1.
func CellsFile(field int) string { return fmt.Sprintf("cells-%d.csv", field) }

// IsCompareFile reports whether Compare may give a file of a name.
func IsCompareFile(name string) bool {
	var field int
	if _, err := fmt.Sscanf(name, "cells-%d.csv", &field); err == nil && field > 0 {
		return name == CellsFile(field)
	}
	return slices.Contains(CompareFiles[:], name)
}

// Compare tells what grew, what died, whether the spray worked, and when to go back.
func Compare(ctx context.Context, q CompareRequest) (*CompareOutcome, error) {
	if err := q.check(); err != nil {
		return nil, err
	}
	v, err := q.visits()
	if err != nil {
		return nil, err
	}
	chosen := compare.Settings{
		Within: q.Compare.Match, ByName: q.Compare.ByName, Forecast: q.Compare.Forecast,
		Chance: paired.Settings{Seed: q.Compare.Seed}, Treatments: v.treatments, Newest: compare.Newest(v.surveys),
	}
	if chosen.Calibrated, err = q.calibrated(); err != nil {
		return nil, err
	}
	if err := chosen.Validate(); err != nil {
		return nil, usage(err)
	}
	out := &CompareOutcome{Notes: v.notes}
	var results []*assess.Result
	answers := map[*assess.Field]verdict.Verdict{}
	var none noneRead
	for _, counts := range v.surveys {
		m := morning{Setup: q.Setup, compared: true}
		r, err := m.work(ctx, v.ground, counts, nil)
		if errors.Is(err, assess.ErrNoneThere) {
			none.refused(err, counts)
			out.Notes = append(out.Notes, fmt.Sprintf("%s: left out, as %v", strings.Join(counts.Files, ", "), err))
			continue
		}
		if err != nil {
			return nil, fmt.Errorf("%s: %w", strings.Join(counts.Files, ", "), err)
		}
		results = append(results, r)
		m.answersOf(r, answers)
		none.add(m.answers, counts)
	}
	if out.Result, err = compare.Run(ctx, results, chosen); err != nil {
		return nil, err
	}
	if out.Now, err = heeded(out.Result, answers, none); err != nil {
		return nil, err
	}
	var aside []string
	aside, out.SetAside = setAside(results, v.parted)
	out.Result.Notes = slices.Concat(out.Result.Notes, v.unlikeNotes, aside)
	out.Files, err = q.files(out, v.inputs)
	return out, err
}

// answersOf puts the verdicts of a visit to its fields.
func (m *morning) answersOf(r *assess.Result, to map[*assess.Field]verdict.Verdict) {
	for _, f := range r.Fields {
		for _, v := range m.answers {
			if v.Field == f.Name {
				to[f] = v
			}
		}
	}
}

// heeded are the verdicts of the last visits; no field is gone back to later than they say. A
// visit of which nothing was read in a field is its last too.
func heeded(r *compare.Result, answers map[*assess.Field]verdict.Verdict, none noneRead) (now []verdict.Verdict, err error) {
	for _, f := range r.Fields {
		last := f.Visits[len(f.Visits)-1]
		v, ok := answers[last.Assess]
		if ok {
			f.Next.Heed(v.On, v.GoodUntil)
		}
		lost, is, err := none.since(f.Name, last.Last)
		if err != nil {
			return nil, err
		}
		if is {
			v, ok = lost, true
		}
		if ok {
			now = append(now, v)
		}
	}
	return now, nil
}

func (q CompareRequest) check() error {
	if err := q.Settings.Validate(); err != nil {
		return err
	}
	for _, name := range q.Settings.Write {
		if name != "report" {
			return usage(fmt.Errorf("--write %q: compare makes a report only", name))
		}
	}
	return nil
}

// setAside names the rows that no visit could use, and counts them: of visits that are parts of
// one file a row may be of several.
func setAside(results []*assess.Result, parted bool) (notes []string, n int) {
	seen := map[string]bool{}
	for _, r := range results {
		t, name := r.Tally(), strings.Join(r.Survey.Files, ", ")
		n += t.SetAside
		if parted {
			name += onDays(r.Survey.Dates)
			for _, u := range r.Survey.Unread {
				if at := u.Place(); seen[at] {
					n--
				} else {
					seen[at] = true
				}
			}
		}
		if t.SetAside > 0 {
			notes = append(notes, fmt.Sprintf("%s: %d rows read, %d used, %d set aside; map names them", name, t.Read, t.Used, t.SetAside))
		}
	}
	return notes, n
}

func (q CompareRequest) files(made *CompareOutcome, inputs []Source) ([]File, error) {
	r := made.Result
	run := q.record(r, inputs)
	renderings := []rendering{
		{"change.geojson", collection(report.ChangeFeatures(r))},
		{"hotspots.geojson", collection(report.HotspotFeatures(r))},
		{"change.kml", func(w io.Writer) error {
			return geofile.WriteKML(w, report.ChangeDocument(r, figures.Both.In(q.Settings.Language)))
		}},
		{"compare.json", func(w io.Writer) error { return report.WriteCompareSummary(w, r) }},
		{"run.json", func(w io.Writer) error { return report.WriteJSON(w, run) }}, // once all are known
	}
	if q.Compare.Forecast != "" {
		renderings = append(renderings, rendering{"forecast.geojson", collection(report.ForecastFeatures(r))})
	}
	if slices.Contains(q.Settings.Write, "report") {
		renderings = append(renderings, rendering{reportFile, func(w io.Writer) error { return q.page(made, run).Write(w) }})
	}
	if q.Compare.Cells {
		for i, f := range r.Fields {
			renderings = append(renderings, rendering{CellsFile(i + 1), func(w io.Writer) error { return report.WriteCells(w, f) }})
		}
	}
	for _, one := range renderings {
		run.Files = append(run.Files, one.name)
	}
	return render(renderings)
}

func (q CompareRequest) record(r *compare.Result, inputs []Source) CompareRecord {
	out := CompareRecord{Program: Program, Version: q.Version, Command: "compare", Settings: q.Settings, Compare: q.Compare}
	if !r.Several() {
		out.Settings.TreatAt, out.Settings.WatchAt = r.Levels.TreatAt, r.Levels.WatchAt
	}
	for _, s := range inputs {
		out.Inputs = append(out.Inputs, InputOf(s))
	}
	return out
}

// page is the page of a comparison.
func (q CompareRequest) page(of *CompareOutcome, made CompareRecord) view.Weeks {
	p := view.Weeks{Result: of.Result, Now: of.Now, Units: q.Settings.Said(), Program: made.Program + " " + made.Version, Command: made.Command}
	for _, in := range made.Inputs {
		p.Inputs = append(p.Inputs, view.Input{Path: in.Path, SHA256: in.SHA256})
	}
	return p
}
