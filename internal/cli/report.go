package cli

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"github.com/geocoris/geocoris/internal/survey"
)

func newReport(s Streams) *cobra.Command {
	o := writeOptions{}
	cmd := &cobra.Command{
		Use:   "report FOLDER",
		Short: "A page to look at, pictures and the surface of a folder that map wrote",
		Long: `report makes one page of a result of map, to be looked at, sent and printed: the
map with zones, surface, chances and stops, the tables, how sure it is, what was set
aside and where it all comes from. It is one file that opens on any laptop or phone
without a connection and asks for nothing from anywhere.

The folder is one that map wrote; its record says from which files and with which
settings, and these are read again. If one has changed since, nothing is written.

With --write it makes other files too: map.png for a message, map.svg, map.pdf (A4, or
letter where map ran with --units us), surface.tif (GeoTIFF in UTM) and surface.kmz
(the surface in degrees with its legend). map --write makes the same in one go.`,
		Example: `  geocoris report out
  geocoris report out --write map.png
  geocoris map week2.csv --field field.geojson --out out --write report,map.pdf`,
		Args: usageArgs(cobra.ExactArgs(1)),
	}
	o.flags(cmd.Flags())
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		if len(o.Write) == 0 {
			o.Write = []string{"report"}
		}
		if _, err := o.wanted(); err != nil {
			return usageError{err}
		}
		return runReport(cmd.Context(), s, args[0], o)
	}
	return cmd
}

func runReport(ctx context.Context, s Streams, folder string, o writeOptions) error {
	if err := settled(s, folder); err != nil {
		return err
	}
	m, made, sources, err := recorded(folder)
	if err != nil {
		return err
	}
	m.options.writeOptions = o
	set := m.options.assess()
	set.Levels.TreatSource, set.Levels.WatchSource = sources.Levels.TreatSource, sources.Levels.WatchSource
	ground, err := readFields(m.options)
	if err != nil {
		return err
	}
	counts, err := m.readSamples(ground.Fields, nil)
	if err != nil {
		return err
	}
	if err := holdFields(m.options.Field, ground, counts); err != nil {
		return err
	}
	set, more, err := m.byRule(set, counts)
	if err != nil {
		return err
	}
	result, err := m.assess(ctx, ground.Fields, counts, set)
	if err != nil {
		return failed(s, counts, err)
	}
	result.Notes = slices.Concat(ground.Warnings, more, result.Notes)
	if m.answers, err = m.verdicts(result); err != nil {
		return err
	}
	pages, err := m.looks(ctx, result, made, ground.Notes)
	if err != nil {
		return err
	}
	var files []outFile
	var names []string
	for _, p := range pages {
		var b bytes.Buffer
		if err := p.write(&b); err != nil {
			return fmt.Errorf("%s: %w", p.name, err)
		}
		files, names = append(files, outFile{p.name, b.Bytes()}), append(names, p.name)
	}
	if err := writeFolder(s, folder, files, nil); err != nil {
		return err
	}
	fmt.Fprintf(s.Out, "Files in %s: %s\n", folder, strings.Join(names, ", "))
	for _, note := range o.leftOut(result) {
		fmt.Fprintf(s.Out, "  %s\n", note)
	}
	return nil
}

// levelSources are what summary.json tells of where the levels come from.
type levelSources struct {
	Levels struct {
		TreatSource string `json:"treat_source"`
		WatchSource string `json:"watch_source"`
	} `json:"levels"`
}

// recorded is the run that a folder holds the result of, its inputs the same as
// they were.
func recorded(folder string) (m *mapRun, made record, sources levelSources, err error) {
	var kept struct {
		Program, Version, Command string
		Inputs                    []input
		Settings                  json.RawMessage
	}
	for _, f := range []struct {
		name string
		into any
	}{{"run.json", &kept}, {"summary.json", &sources}} {
		text, err := os.ReadFile(filepath.Join(folder, f.name))
		if err != nil {
			return nil, made, sources, hintedError{err, "give the folder that map wrote"}
		}
		if err := json.Unmarshal(text, f.into); err != nil {
			return nil, made, sources, fmt.Errorf("%s: %w", filepath.Join(folder, f.name), err)
		}
	}
	if kept.Program != "geocoris" || kept.Command != "map" {
		return nil, made, sources, hintedError{fmt.Errorf("%s is no record of map", filepath.Join(folder, "run.json")), "give the folder that map wrote"}
	}
	o, err := recordedOptions(kept.Settings)
	if err != nil {
		return nil, made, sources, err
	}
	m = &mapRun{options: o}
	for _, in := range kept.Inputs {
		if in.Path == o.Field {
			break // samples come first
		}
		m.samples = append(m.samples, in.Path)
	}
	made = record{Program: kept.Program, Version: kept.Version, Command: kept.Command, Inputs: kept.Inputs}
	return m, made, sources, unchanged(kept.Inputs)
}

// recordedOptions are the options of a record. A rule brings its levels itself.
func recordedOptions(text []byte) (mapOptions, error) {
	o, err := storedOptions(text)
	if err != nil {
		return o, err
	}
	var where struct {
		Field string `json:"field"`
		Units string `json:"units"` // "" is both
	}
	if err := json.Unmarshal(text, &where); err != nil {
		return o, fmt.Errorf("settings: %w", err)
	}
	o.Field = where.Field
	if where.Units != "" {
		if err := o.Units.Set(where.Units); err != nil {
			return o, fmt.Errorf("settings: units %s: %w", where.Units, err)
		}
	}
	if o.Rule != "" {
		o.TreatAt, o.WatchAt, o.Tally, o.Unit, o.Part = 0, 0, 0, "leaf", ""
	}
	return o, nil
}

// unchanged holds the inputs against their digests.
func unchanged(inputs []input) error {
	for _, in := range inputs {
		if in.Path == survey.Stdin {
			return hintedError{errors.New("the samples came by standard input, so they cannot be read again"), "make the files with map --write"}
		}
		now, err := digest(in.Path)
		if err != nil {
			return hintedError{err, "run report from the folder in which map ran"}
		}
		if now.SHA256 != in.SHA256 {
			return hintedError{fmt.Errorf("%s has changed since it was mapped", in.Path), "run map again"}
		}
	}
	return nil
}
