//go:build !small

package engine

import (
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"slices"
)

// A MapFolder is a folder that map wrote. What it was made from is loaded when it is
// wanted.
type MapFolder struct {
	Name         string
	Run, Summary Source // run.json and summary.json
	// Load loads what the record names; an error that is hinted says itself how to fix it.
	Load func(path string) (Source, error)
}

// LastDay is the last day of the counts, ISO 8601, by summary.json; "" where it tells none.
func (f MapFolder) LastDay() (string, error) {
	var m mappedFields
	if err := json.Unmarshal(f.Summary.Content, &m); err != nil {
		return "", fmt.Errorf("%s: %w", f.Summary.Name, err)
	}
	if n := len(m.Dates); n > 0 {
		return m.Dates[n-1], nil
	}
	return "", nil
}

// levelSources are what summary.json tells of where the levels come from.
type levelSources struct {
	Levels struct {
		TreatSource string `json:"treat_source"`
		WatchSource string `json:"watch_source"`
	} `json:"levels"`
}

// What can be given in place of a folder that does not do.
const (
	giveFolder = "give the folder that map wrote"
	giveCounts = "give the files of counts themselves"
)

// record reads run.json; hint says what else can be given.
func (f MapFolder) record(hint string) (run keptRecord, err error) {
	if f.Run.Content == nil {
		return run, hinted(fmt.Errorf("%s: no folder that map wrote: it holds no run.json", f.Name), hint)
	}
	if err := json.Unmarshal(f.Run.Content, &run); err != nil {
		return run, fmt.Errorf("%s: %w", f.Run.Name, err)
	}
	if run.Command != "map" || run.Program != Program {
		return run, hinted(fmt.Errorf("%s was not written by map", f.Name), hint)
	}
	if run.Format > recordFormat {
		return run, hinted(fmt.Errorf("%s was written by a later version of this program, %s", f.Run.Name, run.Version), "use that version, or run map again")
	}
	return run, f.unchanged(run, f.Summary)
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

// settings are those of the record as a further run takes them, as JSON: as they were
// asked, so that what nobody gave keeps its source.
func (f MapFolder) settings() ([]byte, error) {
	run, err := f.record(giveCounts)
	if err != nil {
		return nil, err
	}
	sources, err := f.sources()
	if err != nil {
		return nil, err
	}
	run.complete(sources)
	asked, err := run.without(slices.Concat(run.FilledIn, run.Ruled))
	if err != nil {
		return nil, fmt.Errorf("%s: %w", f.Run.Name, err)
	}
	return json.Marshal(asked)
}

// counts are the samples that a map was made from. They must be what they were.
func (f MapFolder) counts() (samples []Source, err error) {
	run, err := f.record(giveCounts)
	if err != nil {
		return nil, err
	}
	read, _, _ := run.read()
	for _, in := range read {
		now, err := f.loaded(in)
		if err != nil {
			hint := giveCounts
			if errors.Is(err, fs.ErrNotExist) { // what came by a pipe never was a file
				hint = f.Moved(in.Path) + ", or " + giveCounts
			}
			return nil, hinted(fmt.Errorf("%s was made from %s: %w", f.Name, in.Path, err), hint)
		}
		if InputOf(now).SHA256 != in.SHA256 {
			return nil, hinted(fmt.Errorf("%s is no longer what %s was made from", in.Path, f.Name), giveCounts)
		}
		samples = append(samples, now)
	}
	if len(samples) == 0 {
		return nil, hinted(fmt.Errorf("%s does not name its samples", f.Name), giveCounts)
	}
	return samples, nil
}

// again loads an input of the record, which must be what it was.
func (f MapFolder) again(in Input) (Source, error) {
	now, err := f.loaded(in)
	var known HintedError
	if errors.As(err, &known) {
		return now, err
	}
	if err != nil {
		return now, hinted(err, f.Moved(in.Path))
	}
	return now, in.still(now, "run map again")
}

// still refuses a file that is no longer what was mapped; hint says how to go on.
func (in Input) still(now Source, hint string) error {
	if InputOf(now).SHA256 != in.SHA256 {
		return hinted(fmt.Errorf("%s has changed since it was mapped", in.Path), hint)
	}
	return nil
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
