package cli

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"io"
	"maps"
	"os"
	"slices"

	"github.com/geocoris/geocoris/internal/assess"
	"github.com/geocoris/geocoris/internal/boundary"
	"github.com/geocoris/geocoris/internal/report"
	"github.com/geocoris/geocoris/internal/survey"
	"github.com/geocoris/geocoris/internal/verdict"
)

// record is run.json: how a result came to be, with defaults filled in. It holds
// no clock, so the same inputs and settings give the same bytes.
type record struct {
	Program  string                 `json:"program"`
	Version  string                 `json:"version"`
	Command  string                 `json:"command"`
	Inputs   []input                `json:"inputs"`
	Settings mapOptions             `json:"settings"`
	FilledIn []string               `json:"filled_in"` // settings that nobody gave: their defaults
	Fields   []report.FieldSettings `json:"fields"`    // what was left to each field
	Overlaps []boundary.Overlap     `json:"overlaps,omitempty"`
}

// input is a file as it was when it was read.
type input struct {
	Path   string `json:"path"`
	Bytes  int64  `json:"bytes"`
	SHA256 string `json:"sha256"`
}

func (m *mapRun) record(result *assess.Result) (record, error) {
	r := record{Program: "geocoris", Version: version(), Command: "map", Fields: report.SettingsOf(result), Overlaps: m.overlaps}
	r.Settings = m.options.filled(result)
	var err error
	if r.FilledIn, err = changed(m.options, r.Settings); err != nil {
		return record{}, err
	}
	for _, path := range m.inputs() {
		if path == survey.Stdin {
			r.Inputs = append(r.Inputs, digestOf(path, m.stdin))
			continue
		}
		in, err := digest(path)
		if err != nil {
			return record{}, err
		}
		r.Inputs = append(r.Inputs, in)
	}
	return r, nil
}

// filled are the options with the defaults that a result was worked out with. What is
// left to each field stands with the fields; what no part of the work asked for stays
// as it is.
func (o mapOptions) filled(r *assess.Result) mapOptions {
	l := r.Levels
	o.TreatAt, o.WatchAt, o.NextVisit, o.Doubling = l.TreatAt, l.WatchAt, l.NextVisit, l.Doubling
	if chances := o.chanceOptions.assess(); chances.Surface {
		chances = chances.WithDefaults()
		o.WatchChance = chances.WatchAt
		if o.Catch == 0 { // which finds the chance to cut at itself
			o.TreatChance = chances.TreatAt
		}
	}
	if o.Price > 0 && o.Control == 0 {
		o.Control = verdict.FullControl
	}
	set := o.Verdict.settings()
	set.Revisit = l.NextVisit
	o.Verdict = verdictOptionsOf(set.WithDefaults())
	return o
}

// changed names the settings that differ between two options, in the order of their
// names; those of the verdict after "verdict.".
func changed(a, b mapOptions) (names []string, err error) {
	was, err := settingsByName(a)
	if err != nil {
		return nil, err
	}
	is, err := settingsByName(b)
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

// settingsByName are options as JSON by their names.
func settingsByName(o mapOptions) (map[string]json.RawMessage, error) {
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

func digestOf(path string, content []byte) input {
	sum := sha256.Sum256(content)
	return input{Path: path, Bytes: int64(len(content)), SHA256: hex.EncodeToString(sum[:])}
}

func digest(path string) (input, error) {
	f, err := os.Open(path)
	if err != nil {
		return input{}, err
	}
	defer f.Close()
	h := sha256.New()
	n, err := io.Copy(h, f)
	return input{Path: path, Bytes: n, SHA256: hex.EncodeToString(h.Sum(nil))}, err
}
