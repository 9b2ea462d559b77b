//go:build !small

package engine

import (
	"encoding/json"
	"maps"
	"slices"
	"strings"
)

// A keptRecord is what run.json of map says: see [MapRecord].
type keptRecord struct {
	Program  string                     `json:"program"`
	Version  string                     `json:"version"`
	Command  string                     `json:"command"`
	Inputs   []Input                    `json:"inputs"`
	Settings map[string]json.RawMessage `json:"settings"`
	FilledIn []string                   `json:"filled_in"`
	Ruled    []string                   `json:"ruled"`
	Format   int                        `json:"format"`
	Outputs  []Input                    `json:"outputs"` // none in records of before
}

// path is the file that a setting names; "" for none.
func (r keptRecord) path(setting string) (path string) {
	_ = json.Unmarshal(r.Settings[setting], &path) // none given is none
	return path
}

// read parts the inputs by their places: the samples, the boundary, and what settings
// came from or name. The samples may lie in the file of the boundary.
func (r keptRecord) read() (samples []Input, boundary *Input, more []Input) {
	field := r.path("field")
	for i := len(r.Inputs) - 1; i >= 0; i-- {
		if r.Inputs[i].Path == field {
			return r.Inputs[:i], &r.Inputs[i], r.Inputs[i+1:]
		}
	}
	return r.Inputs, nil, nil
}

// without are the settings but for those of some names; those of the verdict stand
// after "verdict.".
func (r keptRecord) without(names []string) (map[string]json.RawMessage, error) {
	left := maps.Clone(r.Settings)
	var table map[string]json.RawMessage
	if text, ok := left["verdict"]; ok {
		if err := json.Unmarshal(text, &table); err != nil {
			return nil, err
		}
	}
	for _, name := range names {
		delete(left, name)
		if inner, ofVerdict := strings.CutPrefix(name, "verdict."); ofVerdict {
			delete(table, inner)
		}
	}
	if table == nil {
		return left, nil
	}
	text, err := json.Marshal(table)
	left["verdict"] = text
	return left, err
}

// ofLevels are the settings that make the levels, which a rule takes part in.
var ofLevels = []string{"treat-at", "watch-at", "next-visit", "doubling"}

// complete fills in what earlier records do not say: which settings nobody gave is
// seen by the sources of the levels, and a rule is taken to have brought all that one
// brings.
func (r *keptRecord) complete(from levelSources) {
	const given = "given"
	if r.FilledIn == nil {
		if from.Levels.TreatSource != given {
			r.FilledIn = append(r.FilledIn, "treat-at")
		}
		if from.Levels.WatchSource != given {
			r.FilledIn = append(r.FilledIn, "watch-at")
		}
	}
	if _, ruled := r.Settings["rule"]; ruled && r.Ruled == nil {
		r.Ruled = slices.Concat([]string{"tally", "part", "unit"}, ofLevels[2:])
	}
}
