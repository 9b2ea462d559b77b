package cli

import (
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/pflag"

	"github.com/geocoris/geocoris/internal/season"
)

// storedOptions are options as a season or a folder of map keeps them, as JSON.
// What they do not name has its default: they may be older than a flag.
func storedOptions(text []byte) (mapOptions, error) {
	var o mapOptions
	o.flags(pflag.NewFlagSet("stored", pflag.ContinueOnError))
	var kept map[string]json.RawMessage
	if err := json.Unmarshal(text, &kept); err != nil {
		return o, fmt.Errorf("stored settings: %w", err)
	}
	for _, name := range notKept {
		delete(kept, name)
	}
	known, err := json.Marshal(kept)
	if err != nil {
		return o, err
	}
	if err := json.Unmarshal(known, &o); err != nil {
		return o, fmt.Errorf("stored settings: %w", err)
	}
	return o, nil
}

// notKept are the settings that no result depends on: where files lie on one
// machine, and how things are shown.
var notKept = [...]string{"field", "out", "units", "strict", "write"}

// over returns the options with a settings file taken in, and with the flags that
// were given going before both.
func (o mapOptions) over(given *pflag.FlagSet, path string) (mapOptions, error) {
	var merged mapOptions
	flags := pflag.NewFlagSet("settings", pflag.ContinueOnError)
	merged.flags(flags)
	merged = o
	if path != "" {
		if err := merged.read(path); err != nil {
			return merged, err
		}
	}
	var err error
	given.Visit(func(f *pflag.Flag) {
		if flags.Lookup(f.Name) != nil {
			err = errors.Join(err, copyFlag(flags.Lookup(f.Name).Value, f.Value))
		}
	})
	return merged, err
}

// adopted are the options that the last WEEK which keeps any was worked out with, and
// the files that they name where it keeps those; ok is false where none does. So a
// season added by one rule is not compared by another.
func adopted(weeks []string) (o mapOptions, files []season.SettingsFile, ok bool, err error) {
	for _, week := range weeks {
		info, err := os.Stat(week)
		if err != nil {
			return o, nil, false, err
		}
		var text []byte
		switch {
		case info.IsDir():
			files = nil
			text, err = mapSettings(week)
		case season.Is(week):
			text, files, err = lastSettings(week)
		default:
			continue
		}
		if err != nil {
			return o, nil, false, err
		}
		if o, err = storedOptions(text); err != nil {
			return o, nil, false, fmt.Errorf("%s: %w", week, err)
		}
		ok = true
	}
	return o, files, ok, nil
}

func lastSettings(path string) ([]byte, []season.SettingsFile, error) {
	file, err := season.Open(path)
	if err != nil {
		return nil, nil, err
	}
	defer file.Close()
	v, err := chosenVisit(file, nil)
	return []byte(v.Settings), v.SettingsFiles, err
}

// mapSettings are those in run.json of a folder that map wrote. What nobody gave is left
// out, so that it keeps its source.
func mapSettings(folder string) ([]byte, error) {
	run, err := mapRecord(folder)
	if err != nil {
		return nil, err
	}
	var summary struct {
		Levels struct {
			TreatSource string `json:"treat_source"`
			WatchSource string `json:"watch_source"`
		} `json:"levels"`
	}
	text, err := os.ReadFile(filepath.Join(folder, "summary.json"))
	if err != nil {
		return nil, err
	}
	if err := json.Unmarshal(text, &summary); err != nil {
		return nil, fmt.Errorf("%s: %w", filepath.Join(folder, "summary.json"), err)
	}
	const given = "given"
	if _, ruled := run.Settings["rule"]; ruled { // which sets them anew
		for _, name := range []string{"treat-at", "watch-at", "tally", "part", "unit", "next-visit", "doubling"} {
			delete(run.Settings, name)
		}
	}
	if err := run.unfill(); err != nil {
		return nil, fmt.Errorf("%s: %w", filepath.Join(folder, "run.json"), err)
	}
	if summary.Levels.TreatSource != given { // records of before do not tell what was filled in
		delete(run.Settings, "treat-at")
	}
	if summary.Levels.WatchSource != given {
		delete(run.Settings, "watch-at")
	}
	return json.Marshal(run.Settings)
}

// ranMap is what run.json of map tells.
type ranMap struct {
	Command  string                     `json:"command"`
	Inputs   []input                    `json:"inputs"`
	Settings map[string]json.RawMessage `json:"settings"`
	FilledIn []string                   `json:"filled_in"` // settings that nobody gave
}

// unfill removes the settings that nobody gave.
func (r ranMap) unfill() error {
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

// field is the path of the boundary.
func (r ranMap) field() string { return r.path("field") }

// path is the file that a setting names; "" for none.
func (r ranMap) path(setting string) (path string) {
	_ = json.Unmarshal(r.Settings[setting], &path) // none told is none
	return path
}

// samples are the inputs that no setting names.
func (r ranMap) samples() (samples []input) {
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

func mapRecord(folder string) (run ranMap, err error) {
	const hint = "give the files of counts themselves"
	text, err := os.ReadFile(filepath.Join(folder, "run.json"))
	if err != nil {
		return run, hintedError{fmt.Errorf("%s: no folder that map wrote: %w", folder, err), hint}
	}
	if err := json.Unmarshal(text, &run); err != nil {
		return run, fmt.Errorf("%s: %w", filepath.Join(folder, "run.json"), err)
	}
	if run.Command != "map" {
		return run, hintedError{fmt.Errorf("%s was not written by map", folder), hint}
	}
	return run, nil
}
