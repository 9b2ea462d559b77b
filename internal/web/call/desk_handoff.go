//go:build !small

package call

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"path"
	"path/filepath"
	"strings"

	"github.com/geocoris/geocoris/internal/engine"
	"github.com/geocoris/geocoris/internal/output/jobsheet"
	"github.com/geocoris/geocoris/internal/output/report"
)

// jobOut is the folder that a command shown writes its job into.
const jobOut = "job"

// wideScreen keeps a sentence on one line: the page breaks lines itself.
const wideScreen = 10_000

type handoffFacts struct {
	Says     []string                `json:"says"` // of all jobs, each paragraph a line
	Cautions []string                `json:"cautions"`
	Commands []string                `json:"commands"`
	Settings []settingsFile          `json:"settings"`
	Planned  []engine.RecordSettings `json:"planned"` // what records begin with
}

// handoff makes the map and hands it over, as the two commands do one after the other.
func (d Desk) handoff(ctx context.Context, r request) (any, []engine.File, error) {
	o := struct {
		Map engine.Settings        `json:"map"`
		Job engine.HandoffSettings `json:"job"`
	}{engine.Defaults(), engine.HandoffDefaults()}
	if err := r.settings(&o); err != nil {
		return nil, nil, err
	}
	if o.Job.Swath.Typed == nil {
		return nil, nil, engine.HintedError{Err: errors.New("how wide is a pass of the sprayer?"), Hint: "give it with its unit, such as 24m or 80ft"}
	}
	asked, err := d.mapRequest(r, o.Map)
	if err != nil {
		return nil, nil, err
	}
	made, err := engine.Map(ctx, asked)
	if err != nil {
		return nil, nil, withRows(err)
	}
	q := engine.HandoffRequest{
		Settings: o.Job, Version: d.Version, KeepOffs: r.all(KeepOff),
		Asked: map[string]string{"out": jobOut, "force": "false", "json": "false", "quiet": "false"},
	}
	if n := len(o.Job.KeepOff); n != len(q.KeepOffs) {
		return nil, nil, fmt.Errorf("%s: %d files of %s came along, and %d set-backs", r.Do, len(q.KeepOffs), KeepOff, n)
	}
	q.Sprayed = d.sprayRecords()
	inFolder(&q, asked.Settings.Out, made.Files)
	job, err := engine.Handoff(q)
	if err != nil {
		return nil, nil, err
	}
	facts := handoffFacts{Says: []string{}, Commands: []string{
		commandOf("map", namesOf(asked.Samples), asked.Settings), handoffCommandOf(asked.Settings.Out, jobOut, o.Job),
	}}
	ofMap, err := mapSettings(namesOf(asked.Samples), asked.Settings)
	if err != nil {
		return nil, nil, err
	}
	ofJob, err := jobSettings(asked.Settings.Out, jobOut, o.Job)
	if err != nil {
		return nil, nil, err
	}
	facts.Settings, facts.Planned = []settingsFile{ofMap, ofJob}, job.Planned()
	sheet := job.Sheet
	for _, f := range job.Files {
		sheet.Files = append(sheet.Files, f.Name)
	}
	facts.Says = saidOf(jobsheet.Brief{Sheet: sheet, Width: wideScreen}.Paragraphs())
	facts.Cautions = report.BriefCautions(o.Job.Units)
	return facts, job.Files, nil
}

// sprayRecords are the records of sprays in the folder; one that cannot be read is none.
func (d Desk) sprayRecords() (all []engine.SprayRecord) {
	if d.Folder == nil {
		return nil
	}
	lying, err := d.Folder.List()
	if err != nil {
		return nil
	}
	for _, f := range lying {
		if !engine.IsAppliedRecord(path.Base(f.Name)) {
			continue
		}
		var r engine.SprayRecord
		record, err := d.Folder.Load(f.Name)
		if err != nil || json.Unmarshal(record.Content, &r) != nil {
			continue
		}
		if from, err := d.Folder.Load(engine.GroundOf(f.Name)); err == nil {
			r.Ground = &from
		}
		all = append(all, r)
	}
	return all
}

// saidOf are lines of a screen without what is blank.
func saidOf(lines []report.Line) []string {
	said := []string{}
	for _, line := range lines {
		if text := strings.TrimSpace(line.Text); text != "" {
			said = append(said, text)
		}
	}
	return said
}

// inFolder gives the files of a map to a request as they lie in a folder of a name.
func inFolder(q *engine.HandoffRequest, folder string, files []engine.File) {
	all := map[string]*engine.Source{}
	for _, f := range files {
		all[f.Name] = &engine.Source{Name: filepath.Join(folder, f.Name), Content: f.Content}
	}
	q.Zones, q.Run, q.Stops, q.Closed = *all["zones.geojson"], all["run.json"], all["stops.geojson"], all[engine.ClosedFile]
	q.Map = &engine.MapFolder{Name: folder, Run: *all["run.json"], Summary: *all["summary.json"], Load: func(path string) (engine.Source, error) {
		if from := all[filepath.Base(path)]; from != nil && from.Name == path {
			return *from, nil
		}
		return engine.Source{}, fmt.Errorf("%s did not come along", path)
	}}
}

// withRows names the rows that were refused where nothing came of them.
func withRows(err error) error {
	var nothing engine.NothingUsable
	if !errors.As(err, &nothing) {
		return err
	}
	lines := nothing.Lines()
	if len(lines) == 0 {
		return err
	}
	return engine.HintedError{Err: err, Hint: "look at the rows that cannot be read, the first is " + lines[0]}
}
