package cli

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/assess"
	"github.com/geocoris/geocoris/internal/boundary"
	"github.com/geocoris/geocoris/internal/compare"
	"github.com/geocoris/geocoris/internal/folder"
	"github.com/geocoris/geocoris/internal/paired"
	"github.com/geocoris/geocoris/internal/report"
	"github.com/geocoris/geocoris/internal/season"
	"github.com/geocoris/geocoris/internal/survey"
)

// compareOptions are the settings of the compare command beside those of map.
type compareOptions struct {
	Dates     []string `json:"dates,omitempty"`
	Match     float64  `json:"match-within"`
	ByName    bool     `json:"match-by-name"`
	Seed      uint64   `json:"seed"`
	Treated   string   `json:"treated"`
	TreatedOn string   `json:"treated-on"`
	Forecast  string   `json:"forecast"`
	Cells     bool     `json:"cells"`
}

// flags binds the options to flags, and sets them to the defaults.
func (o *compareOptions) flags(f *pflag.FlagSet) {
	f.StringVar(&o.Treated, "treated", "", "`FILE` with the ground that was treated: polygons, with properties date, note, reentry_hours")
	f.Var(day{&o.TreatedOn}, "treated-on", "`day` of the treatment, where the file does not tell it")
	f.Var(day{&o.Forecast}, "forecast", "forecast the zones of a `day`, such as 2031-08-21")
	f.Var(days{&o.Dates}, "dates", "`days` of the visits, in their order, where the samples do not tell them")
	f.Float64Var(&o.Match, "match-within", compare.DefaultWithin, "stops no farther apart than so many `metres` are one place")
	f.BoolVar(&o.ByName, "match-by-name", false, "stops of one name are one place, wherever they lie")
	f.Uint64Var(&o.Seed, "seed", 1, "`number` that the draws of chance start from")
	f.BoolVar(&o.Cells, "cells", false, "write the figures of every node as CSV too")
}

func newCompare(s Streams) *cobra.Command {
	var mapped mapOptions
	var o compareOptions
	var settings string
	cmd := &cobra.Command{
		Use:   "compare WEEK1 WEEK2... --field BOUNDARY --out FOLDER",
		Short: "Tell what grew, what died, whether the spray worked, and when to go back",
		Long: `compare lays several visits to the same fields on one another. Each WEEK is a file
of counts, a folder that map wrote, or a season file, which holds several visits; a
single file of counts with several days is parted by them. All visits are assessed
with the same settings: those that the season, or the last folder of map, keeps, or
the defaults of map; flags go before them.

It tells how the mean changed and whether that stands out from the noise, how much
ground went from zone to zone, where each hotspot went, when ground will reach the
treat level, and, with the ground that was treated, whether it worked: held against
stops in ground that nobody treated between the visits. Growth, days and forecast
then come from ground that was not treated; with too few stops in it there is no
forecast. Numbers grow by a factor, shares of a --tally by one of their odds.

Stops that lie close are taken as one place. Where fewer than six are, the visits
are compared by all their stops.

It writes change.geojson, hotspots.geojson, change.kml with time spans,
compare.json, run.json; with --forecast forecast.geojson; with --cells
cells-N.csv, one row for each node of field N. What is forecast says so.`,
		Example: `  # three weeks of the invented data
  geocoris compare trial/week1.csv trial/week2.csv trial/week3.csv --field trial/field.geojson --out trial/change

  # did the spray of 15 August work, and what is to be expected on the 25th
  geocoris compare before.csv after.csv --field farm.kml --out change --treated sprayed.geojson --treated-on 2031-08-15 --forecast 2031-08-25

  # files that do not tell their days
  geocoris compare a.csv b.csv --dates 2031-08-14,2031-08-21 --field farm.kml --out change

  # all visits of a season file
  geocoris compare season.gpkg --out change`,
		Args: usageArgs(func(_ *cobra.Command, args []string) error {
			if len(args) == 0 {
				return errors.New("no visits given: want two weeks or more, or a season file")
			}
			return nil
		}),
	}
	f := cmd.Flags()
	f.SortFlags = false
	o.flags(f)
	mapped.flags(f)
	f.Lookup("write").Usage = "`report` for a page to look at besides"
	f.StringVar(&settings, "settings", "", "TOML `FILE` with settings of map called as the flags are; flags go before it")
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		if err := settled(s, args...); err != nil {
			return err
		}
		merged, files, err := settleWeeks(f, settings, args)
		if err != nil {
			return err
		}
		defer files.remove()
		if merged.Out == "" {
			return usageError{errors.New("--out is missing")}
		}
		c := compareRun{mapped: merged, options: o, weeks: args, settings: settings, kept: files}
		return c.run(cmd.Context(), s)
	}
	return cmd
}

// settleWeeks are the options of the call; those that a season or a folder of map
// keeps stand in for the defaults, with the files that a season keeps laid out.
func settleWeeks(given *pflag.FlagSet, settings string, weeks []string) (o mapOptions, files layout, err error) {
	o, kept, ok, err := adopted(weeks)
	if err != nil {
		return o, files, err
	}
	if !ok {
		o, err = settle(given, settings)
		return o, files, err
	}
	if o, files, err = o.layOut(kept); err != nil {
		return o, files, err
	}
	stored := o
	if o, err = o.over(given, settings); err == nil && slices.ContainsFunc(weeks, season.Is) {
		err = o.lost(stored, func(setting string) string { return fmt.Sprintf("say where it lies now with --%s", setting) })
	}
	if err != nil {
		files.remove()
	}
	return o, files, err
}

// compareRun is one call of the compare command.
type compareRun struct {
	mapped   mapOptions
	options  compareOptions
	weeks    []string
	settings string
	kept     layout   // files of settings that come out of a season
	inputs   []string // files that were read
}

// compareFiles are all names that compare may write, but for those of cells.
var compareFiles = [...]string{"change.geojson", "hotspots.geojson", "forecast.geojson", "change.kml", "compare.json", "run.json", reportFile}

func cellsFile(field int) string { return fmt.Sprintf("cells-%d.csv", field) }

// isCompareFile reports whether compare may write a file of a name.
func isCompareFile(name string) bool {
	var field int
	if _, err := fmt.Sscanf(name, "cells-%d.csv", &field); err == nil && field > 0 {
		return name == cellsFile(field)
	}
	return slices.Contains(compareFiles[:], name)
}

// formerFiles are the names that a former run of compare wrote into a folder, by its
// run.json; none where there is no such record. One that does not list them yet is
// taken for all names that compare may write, cells where it tells of them.
func formerFiles(folder string) func(name string) bool {
	var made struct {
		Program, Command string
		Files            []string
		Compare          struct{ Cells bool }
	}
	text, err := os.ReadFile(filepath.Join(folder, "run.json"))
	if err != nil || json.Unmarshal(text, &made) != nil || made.Program != "geocoris" || made.Command != "compare" {
		return func(string) bool { return false }
	}
	return func(name string) bool {
		if made.Files != nil {
			return isCompareFile(name) && slices.Contains(made.Files, name)
		}
		return slices.Contains(compareFiles[:], name) || made.Compare.Cells && isCompareFile(name)
	}
}

func (c *compareRun) run(ctx context.Context, s Streams) error {
	if err := validSettings(c.mapped); err != nil {
		return err
	}
	if err := onlyReport(c.mapped.Write); err != nil {
		return usageError{err}
	}
	v, err := c.visits(s)
	if err != nil {
		return err
	}
	stale, err := checkOwnFolder(c.mapped.Out, c.inputs, c.mapped.Force)
	if err != nil {
		return err
	}
	chosen := compare.Settings{
		Within: c.options.Match, ByName: c.options.ByName, Forecast: c.options.Forecast,
		Chance: paired.Settings{Seed: c.options.Seed}, Treatments: v.treatments,
	}
	if chosen.Calibrated, err = c.mapped.calibrated(); err != nil {
		return err
	}
	if err := chosen.Validate(); err != nil {
		return usageError{err}
	}
	var results []*assess.Result
	for _, counts := range v.surveys {
		_, r, err := worker{c.mapped, v.fields, s}.out(ctx, counts)
		if err != nil {
			return fmt.Errorf("%s: %w", strings.Join(counts.Files, ", "), err)
		}
		results = append(results, r)
	}
	r, err := compare.Run(ctx, results, chosen)
	if err != nil {
		return err
	}
	r.Notes = append(r.Notes, setAside(results)...)
	files, err := c.files(r)
	if err != nil {
		return err
	}
	if err := writeFolder(s, c.mapped.Out, files, stale); err != nil {
		return err
	}
	if err := c.print(s.Out, r, files, v.notes); err != nil {
		return err
	}
	aside := 0
	for _, result := range results {
		aside += result.Tally().SetAside
	}
	if c.mapped.Strict && aside > 0 {
		return strictError{aside}
	}
	return nil
}

// setAside names the rows that no visit could use.
func setAside(results []*assess.Result) (notes []string) {
	for _, r := range results {
		if t := r.Tally(); t.SetAside > 0 {
			notes = append(notes, fmt.Sprintf("%s: %d rows read, %d used, %d set aside; map names them", strings.Join(r.Survey.Files, ", "), t.Read, t.Used, t.SetAside))
		}
	}
	return notes
}

// checkOwnFolder refuses a folder that holds what no former run of compare wrote; it
// returns the files of the former run. With force the others stay.
func checkOwnFolder(path string, inputs []string, force bool) (stale []string, err error) {
	if err := folder.Check(path); err != nil {
		return nil, err
	}
	if err := checkRun(path, "compare"); err != nil {
		return nil, err
	}
	entries, err := os.ReadDir(path)
	if os.IsNotExist(err) {
		return nil, nil
	}
	if err != nil {
		return nil, hintedError{err, "--out names a folder for the files"}
	}
	former := formerFiles(path)
	for _, e := range entries {
		switch name := e.Name(); {
		case slices.ContainsFunc(inputs, func(in string) bool { return sameFile(in, filepath.Join(path, name)) }):
			return nil, hintedError{fmt.Errorf("%s lies in the folder for the results", filepath.Join(path, name)), "choose another folder with --out"}
		case former(name):
			stale = append(stale, name)
		case !force && !folder.IsOwn(name):
			return nil, hintedError{fmt.Errorf("%s holds other files, such as %s", path, name), "choose another folder with --out, or give --force to write beside them"}
		}
	}
	return stale, nil
}

func (c *compareRun) files(r *compare.Result) ([]outFile, error) {
	run, err := c.record(r)
	if err != nil {
		return nil, err
	}
	collection := func(features []geo.Feature) func(io.Writer) error {
		return func(w io.Writer) error {
			return geofile.WriteGeoJSON(w, geofile.FeatureCollection{Features: features})
		}
	}
	type rendering struct {
		name  string
		write func(io.Writer) error
	}
	renderings := []rendering{
		{"change.geojson", collection(report.ChangeFeatures(r))},
		{"hotspots.geojson", collection(report.HotspotFeatures(r))},
		{"change.kml", func(w io.Writer) error { return geofile.WriteKML(w, report.ChangeDocument(r)) }},
		{"compare.json", func(w io.Writer) error { return report.WriteCompareSummary(w, r) }},
		{"run.json", func(w io.Writer) error { return report.WriteJSON(w, run) }}, // once all are known
	}
	if c.options.Forecast != "" {
		renderings = append(renderings, rendering{"forecast.geojson", collection(report.ForecastFeatures(r))})
	}
	if slices.Contains(c.mapped.Write, "report") {
		renderings = append(renderings, rendering{reportFile, func(w io.Writer) error { return c.weeksPage(r, run).Write(w) }})
	}
	if c.options.Cells {
		for i, f := range r.Fields {
			renderings = append(renderings, rendering{cellsFile(i + 1), func(w io.Writer) error { return report.WriteCells(w, f) }})
		}
	}
	for _, one := range renderings {
		run.Files = append(run.Files, one.name)
	}
	var files []outFile
	for _, one := range renderings {
		var b bytes.Buffer
		if err := one.write(&b); err != nil {
			return nil, fmt.Errorf("%s: %w", one.name, err)
		}
		files = append(files, outFile{one.name, b.Bytes()})
	}
	return files, nil
}

func (c *compareRun) print(w io.Writer, r *compare.Result, files []outFile, notes []string) error {
	switch {
	case c.mapped.Quiet:
		return nil
	case c.mapped.JSON:
		return report.WriteCompareSummary(w, r)
	}
	screen := report.CompareScreen{Result: r, Units: c.mapped.Units.choice, Notes: notes, Out: c.mapped.Out}
	for _, f := range files {
		screen.Files = append(screen.Files, f.name)
	}
	return screen.Write(w)
}

// compareRecord is run.json of compare.
type compareRecord struct {
	Program  string         `json:"program"`
	Version  string         `json:"version"`
	Command  string         `json:"command"`
	Inputs   []input        `json:"inputs"`
	Settings mapOptions     `json:"settings"`
	Compare  compareOptions `json:"compare"`
	Files    []string       `json:"files"` // that it wrote, so that the next run knows which are its own
}

func (c *compareRun) record(r *compare.Result) (compareRecord, error) {
	out := compareRecord{Program: "geocoris", Version: version(), Command: "compare", Settings: c.kept.named(c.mapped), Compare: c.options}
	out.Settings.TreatAt, out.Settings.WatchAt = r.Levels.TreatAt, r.Levels.WatchAt
	for _, path := range c.inputs {
		in, err := digest(path)
		if err != nil {
			return out, err
		}
		out.Inputs = append(out.Inputs, in)
	}
	return out, nil
}

// visitsRead is what the WEEKs of the command line hold.
type visitsRead struct {
	fields     []geo.Field
	ground     boundary.Outlines // where the fields are not a season's
	surveys    []*survey.Survey
	treatments []compare.Treatment
	notes      []string
}
