package engine

import (
	"encoding/json"
	"errors"
	"fmt"
	"path/filepath"
	"strings"
)

// A MapFolder is a folder that map wrote. What it was made from is loaded when it is
// wanted.
type MapFolder struct {
	Name         string
	Run, Summary Source // run.json and summary.json
	// Load loads what the record names; an error that is hinted says itself how to fix it.
	Load func(path string) (Source, error)
}

// levelSources are what summary.json tells of where the levels come from.
type levelSources struct {
	Levels struct {
		TreatSource string `json:"treat_source"`
		WatchSource string `json:"watch_source"`
	} `json:"levels"`
}

const giveFolder = "give the folder that map wrote"

// A mapRecord is what run.json of map tells.
type mapRecord struct {
	Program  string                     `json:"program"`
	Version  string                     `json:"version"`
	Command  string                     `json:"command"`
	Inputs   []Input                    `json:"inputs"`
	Settings map[string]json.RawMessage `json:"settings"`
	FilledIn []string                   `json:"filled_in"` // settings that nobody gave
}

// unfill removes the settings that nobody gave.
func (r mapRecord) unfill() error {
	for _, name := range r.FilledIn {
		inner, ofVerdict := strings.CutPrefix(name, "verdict.")
		if !ofVerdict {
			delete(r.Settings, name)
			continue
		}
		var table map[string]json.RawMessage
		if err := json.Unmarshal(r.Settings["verdict"], &table); err != nil {
			return err
		}
		delete(table, inner)
		text, err := json.Marshal(table)
		if err != nil {
			return err
		}
		r.Settings["verdict"] = text
	}
	return nil
}

// record reads run.json; hint says what else can be given.
func (f MapFolder) record(hint string) (run mapRecord, err error) {
	if f.Run.Content == nil {
		return run, hinted(fmt.Errorf("%s: no folder that map wrote: it holds no run.json", f.Name), hint)
	}
	if err := json.Unmarshal(f.Run.Content, &run); err != nil {
		return run, fmt.Errorf("%s: %w", f.Run.Name, err)
	}
	if run.Command != "map" || run.Program != Program {
		return run, hinted(fmt.Errorf("%s was not written by map", f.Name), hint)
	}
	return run, nil
}

func (f MapFolder) sources() (s levelSources, err error) {
	if f.Summary.Content == nil {
		return s, hinted(fmt.Errorf("%s holds no summary.json", f.Name), giveFolder)
	}
	if err := json.Unmarshal(f.Summary.Content, &s); err != nil {
		return s, fmt.Errorf("%s: %w", f.Summary.Name, err)
	}
	return s, nil
}

// path is the file that a setting names; "" for none.
func (r mapRecord) path(setting string) (path string) {
	_ = json.Unmarshal(r.Settings[setting], &path) // none told is none
	return path
}

// samples are the inputs that no setting names.
func (r mapRecord) samples() (samples []Input) {
	for _, in := range r.Inputs {
		named := filepath.Ext(in.Path) == ".toml" // the settings themselves, or rules
		for _, setting := range []string{"field", "schema", "rules", "observers"} {
			named = named || in.Path == r.path(setting)
		}
		if !named {
			samples = append(samples, in)
		}
	}
	return samples
}

// settings are those of the record as a further run takes them. What nobody gave is left
// out, so that it keeps its source.
func (f MapFolder) settings() ([]byte, error) {
	const hint = "give the files of counts themselves"
	run, err := f.record(hint)
	if err != nil {
		return nil, err
	}
	sources, err := f.sources()
	if err != nil {
		return nil, err
	}
	const given = "given"
	if _, ruled := run.Settings["rule"]; ruled { // which sets them anew
		for _, name := range []string{"treat-at", "watch-at", "tally", "part", "unit", "next-visit", "doubling"} {
			delete(run.Settings, name)
		}
	}
	if err := run.unfill(); err != nil {
		return nil, fmt.Errorf("%s: %w", f.Run.Name, err)
	}
	if sources.Levels.TreatSource != given { // records of before do not tell what was filled in
		delete(run.Settings, "treat-at")
	}
	if sources.Levels.WatchSource != given {
		delete(run.Settings, "watch-at")
	}
	return json.Marshal(run.Settings)
}

// counts are the samples that a map was made from. They must be what they were.
func (f MapFolder) counts() (samples []Source, err error) {
	const hint = "give the files of counts themselves"
	run, err := f.record(hint)
	if err != nil {
		return nil, err
	}
	for _, in := range run.samples() {
		now, err := f.Load(in.Path)
		if err != nil {
			return nil, hinted(fmt.Errorf("%s was made from %s: %w", f.Name, in.Path, err), hint)
		}
		if InputOf(now).SHA256 != in.SHA256 {
			return nil, hinted(fmt.Errorf("%s is no longer what %s was made from", in.Path, f.Name), hint)
		}
		samples = append(samples, now)
	}
	if len(samples) == 0 {
		return nil, hinted(fmt.Errorf("%s does not tell its samples", f.Name), hint)
	}
	return samples, nil
}

// again loads an input of the record, which must be what it was.
func (f MapFolder) again(in Input) (Source, error) {
	now, err := f.Load(in.Path)
	var told HintedError
	if errors.As(err, &told) {
		return now, err
	}
	if err != nil {
		return now, hinted(err, "run report from the folder in which map ran")
	}
	if InputOf(now).SHA256 != in.SHA256 {
		return now, hinted(fmt.Errorf("%s has changed since it was mapped", in.Path), "run map again")
	}
	return now, nil
}

// Inputs are the paths that the record names; none where there is no record.
func (f MapFolder) Inputs() (paths []string) {
	run, err := f.record("")
	if err != nil {
		return nil
	}
	for _, in := range run.Inputs {
		paths = append(paths, in.Path)
	}
	return paths
}
