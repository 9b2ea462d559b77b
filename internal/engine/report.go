//go:build !small

package engine

import (
	"context"
	"encoding/json"
	"fmt"
	"slices"

	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// A ReportRequest asks for pages and pictures of a folder that map wrote.
type ReportRequest struct {
	Folder MapFolder
	Write  WriteSettings
	Only   []string // of the fields of the folder; nil is all
	Memory *Memory  // as that of [Setup]
}

// A ReportOutcome is the files, and what is to be said of them.
type ReportOutcome struct {
	Result *assess.Result
	Files  []File
	Notes  []string
}

// Report makes pages and pictures of what map wrote: from the files and by the
// settings that its record names. If one has changed since, that is an error, and so is
// an answer that is no longer the one of the folder.
func Report(ctx context.Context, q ReportRequest) (*ReportOutcome, error) {
	for _, name := range []string{sequenceFile, packageFile} {
		if q.Write.wants(name) {
			return nil, usage(fmt.Errorf("--write %s: report draws, and map alone writes it", name))
		}
	}
	if _, err := q.Write.wanted(); err != nil {
		return nil, usage(err)
	}
	run, err := q.Folder.record(giveFolder)
	if err != nil {
		return nil, err
	}
	if err := q.Folder.whole(run); err != nil {
		return nil, err
	}
	sources, err := q.Folder.sources()
	if err != nil {
		return nil, err
	}
	made, err := q.Folder.request(run, sources)
	if err != nil {
		return nil, err
	}
	made.Settings.WriteSettings, made.Memory = q.Write, q.Memory
	if made.Settings.Only, err = q.only(made.Settings.Only); err != nil {
		return nil, err
	}
	g, err := made.ground(made.Boundary)
	if err != nil {
		return nil, err
	}
	made.correcting = survey.Correcting{Some: true, Moved: true}
	counts, err := made.read(&g, made.Samples)
	if err != nil {
		return nil, err
	}
	if err := g.hold(counts); err != nil {
		return nil, err
	}
	m := morning{Setup: made.Setup, fields: g.Fields}
	set := m.Settings.assess()
	set.Levels.TreatSource, set.Levels.WatchSource = sources.Levels.TreatSource, sources.Levels.WatchSource
	asked, err := m.inAsked(g, counts)
	if err != nil {
		return nil, err
	}
	set, notes, err := m.byRule(set, asked)
	if err != nil {
		return nil, err
	}
	result, err := m.workBy(ctx, set, g, counts, notes)
	if err != nil {
		return nil, err
	}
	if err := q.Folder.sameAnswers(m.answers); err != nil {
		return nil, err
	}
	result.Notes = slices.Concat(g.Warnings, result.Notes)
	record := MapRecord{Program: run.Program, Version: run.Version, Command: run.Command, Inputs: run.Inputs}
	pictures, err := m.pictures(result, record, g.Notes)
	if err != nil {
		return nil, err
	}
	files, err := render(pictures)
	if err != nil {
		return nil, err
	}
	return &ReportOutcome{Result: result, Files: files, Notes: m.leftOut(result)}, nil
}

// only are the fields asked for of those that were mapped.
func (q ReportRequest) only(mapped []string) ([]string, error) {
	if q.Only == nil || mapped == nil {
		return append(q.Only, mapped...), nil
	}
	if _, err := assess.Chosen(mapped, q.Only); err != nil {
		return nil, usage(fmt.Errorf("--only: %w", err))
	}
	return q.Only, nil
}

// request is what map was asked, its inputs the same as they were.
func (f MapFolder) request(run keptRecord, sources levelSources) (q MapRequest, err error) {
	run.complete(sources)
	if q.Settings, err = run.again(); err != nil {
		return q, err
	}
	samples, boundary, more := run.read()
	if boundary == nil {
		return q, hinted(fmt.Errorf("%s does not name its boundary", f.Run.Name), "run map again")
	}
	for _, in := range samples {
		from, err := f.again(in)
		if err != nil {
			return q, err
		}
		q.Samples = append(q.Samples, from)
	}
	if q.Boundary, err = f.again(*boundary); err != nil {
		return q, err
	}
	q.Named = map[string]Source{}
	for _, in := range more {
		from, err := f.again(in)
		if err != nil {
			return q, err
		}
		for _, n := range q.Settings.NamedFiles() {
			if *n.Path == in.Path {
				q.Named[n.Setting] = from
			}
		}
	}
	return q, nil
}

// again are the settings for the same result once more: as they were used. A rule brings
// its part itself.
func (r keptRecord) again() (Settings, error) {
	var anew []string
	if r.path("rule") != "" || r.path("fields") != "" {
		anew = slices.Clone(r.Ruled)
		for _, name := range ofLevels {
			if slices.Contains(r.FilledIn, name) {
				anew = append(anew, name)
			}
		}
	}
	used, err := r.without(anew)
	if err != nil {
		return Settings{}, err
	}
	text, err := json.Marshal(used)
	if err != nil {
		return Settings{}, err
	}
	o, err := storedSettings(text)
	if err != nil {
		return o, err
	}
	o.Field = r.path("field")
	if units := r.path("units"); units != "" { // "" is both
		if err := o.Units.Set(units); err != nil {
			return o, fmt.Errorf("settings: units %s: %w", units, err)
		}
	}
	if language := r.path("language"); language != "" { // "" is English
		if err := o.Language.Set(language); err != nil {
			return o, fmt.Errorf("settings: language %s: %w", language, err)
		}
	}
	return o, nil
}
