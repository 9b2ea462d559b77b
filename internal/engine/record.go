package engine

import (
	"encoding/json"
	"maps"
	"slices"

	"github.com/geocoris/geocoris/internal/geometry/boundary"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/mapping/verdict"
	"github.com/geocoris/geocoris/internal/output/report"
)

// Program is the name that records hold.
const Program = "geocoris"

// A MapRecord is run.json of map: how a result came to be. What was read are the inputs:
// the samples, the boundary, the file of settings if there was one, and the files that
// settings name. What was used are the settings; what was asked are those of them that
// are neither filled in nor ruled. It holds no clock, so the same inputs and settings
// give the same bytes.
type MapRecord struct {
	Program  string                 `json:"program"`
	Version  string                 `json:"version"`
	Command  string                 `json:"command"`
	Inputs   []Input                `json:"inputs"`
	Settings Settings               `json:"settings"`
	FilledIn []string               `json:"filled_in"`      // settings that nobody gave: their defaults
	Ruled    []string               `json:"ruled,omitzero"` // settings that a rule and the stage of the samples gave; nil without a rule
	Fields   []report.FieldSettings `json:"fields"`         // what was left to each field
	Overlaps []boundary.Overlap     `json:"overlaps,omitempty"`
	Unbound  []boundary.Unbound     `json:"bounds_no_ground,omitempty"`
	Format   int                    `json:"format"`  // of the record: see [recordFormat]
	Outputs  []Input                `json:"outputs"` // what was written beside it, but for pictures, which report makes anew
}

// recordFormat is that of the records written now. Those of before have none, which is 0.
const recordFormat = 1

// outputsOf are the files that a record vouches for.
func outputsOf(files []File) []Input {
	all := []Input{}
	for _, f := range files {
		if slices.Contains(MapFiles[:], f.Name) {
			all = append(all, InputOf(Source{Name: f.Name, Content: f.Content}))
		}
	}
	return all
}

func recordOf(q MapRequest, inputs []Input, ruled Settings, g ground, result *assess.Result) (MapRecord, error) {
	r := MapRecord{Program: Program, Version: q.Version, Command: "map", Inputs: inputs, Format: recordFormat, Fields: report.SettingsOf(result), Overlaps: g.Overlaps, Unbound: g.Unbound}
	r.Settings = ruled.filled(result)
	var err error
	if r.FilledIn, err = changed(ruled, r.Settings); err != nil {
		return r, err
	}
	if ruled.Rule != "" {
		if r.Ruled, err = changed(q.Settings, ruled); err != nil {
			return r, err
		}
	}
	return r, nil
}

// recorded are the files of a request, as the record has them.
func (q MapRequest) recorded() (all []Input) {
	for _, s := range append(append([]Source(nil), q.Samples...), q.Boundary) {
		all = append(all, InputOf(s))
	}
	if q.Config != nil {
		all = append(all, InputOf(*q.Config))
	}
	for _, s := range q.inputs() {
		all = append(all, InputOf(s))
	}
	return all
}

// filled are the settings with the defaults that a result was worked out with. What is
// left to each field stands with the fields; what no part of the work asked for stays
// as it is.
func (o Settings) filled(r *assess.Result) Settings {
	l := r.Levels
	o.TreatAt, o.WatchAt, o.NextVisit, o.Doubling = l.TreatAt, l.WatchAt, l.NextVisit, l.Doubling
	if r.Several() { // they stand with the fields
		o.TreatAt, o.WatchAt = 0, 0
	}
	if chances := o.ChanceSettings.assess(); chances.Surface {
		chances = chances.WithDefaults()
		o.WatchChance = chances.WatchAt
		if o.Catch == 0 && !chances.Loss { // which find themselves where to cut
			o.TreatChance = chances.TreatAt
		}
	}
	if o.Price > 0 && o.Control == 0 {
		o.Control = verdict.FullControl
	}
	set := o.Verdict.settings()
	set.Revisit = l.NextVisit
	o.Verdict = verdictSettingsOf(set.WithDefaults())
	return o
}

// changed names the settings that differ between two, in the order of their names;
// those of the verdict after "verdict.".
func changed(a, b Settings) (names []string, err error) {
	was, err := a.byName()
	if err != nil {
		return nil, err
	}
	is, err := b.byName()
	if err != nil {
		return nil, err
	}
	names = []string{}
	for _, name := range slices.Sorted(maps.Keys(is)) {
		if string(was[name]) != string(is[name]) {
			names = append(names, name)
		}
	}
	return names, nil
}

// byName are settings as JSON by their names.
func (o Settings) byName() (map[string]json.RawMessage, error) {
	all := map[string]json.RawMessage{}
	for prefix, of := range map[string]any{"": o, "verdict.": o.Verdict} {
		text, err := json.Marshal(of)
		if err != nil {
			return nil, err
		}
		var part map[string]json.RawMessage
		if err := json.Unmarshal(text, &part); err != nil {
			return nil, err
		}
		for name, value := range part {
			all[prefix+name] = value
		}
	}
	delete(all, "verdict")
	return all, nil
}
