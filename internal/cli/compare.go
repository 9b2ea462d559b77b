package cli

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"github.com/geocoris/geocoris/internal/engine"
	"github.com/geocoris/geocoris/internal/files/folder"
	"github.com/geocoris/geocoris/internal/output/report"
)

// compareFlags bind the settings to flags, and set them to the defaults.
func compareFlags(f *pflag.FlagSet, o *engine.CompareSettings) {
	*o = engine.CompareDefaults()
	f.StringVar(&o.Treated, "treated", "", "`FILE` with the ground that was treated: polygons, with properties date, note, reentry_hours")
	f.Var(day{&o.TreatedOn}, "treated-on", "`day` of the treatment, where the file does not give it")
	f.Var(day{&o.Forecast}, "forecast", "forecast the zones of a `day`, such as 2031-08-21")
	f.Var(visits{&o.Without}, "without", "`numbers` of visits of a season that are left out")
	f.Var(days{&o.Dates}, "dates", "`days` of the visits, in their order, where the samples do not give them")
	f.Float64Var(&o.Match, "match-within", o.Match, "stops no farther apart than so many `metres` are one place")
	f.BoolVar(&o.ByName, "match-by-name", false, "stops of one name are one place, wherever they lie")
	f.Uint64Var(&o.Seed, "seed", o.Seed, "`number` that the draws of chance start from")
	f.BoolVar(&o.Cells, "cells", false, "write the figures of every node as CSV too")
}

func newCompare(s Streams) *cobra.Command {
	var mapped mapOptions
	var o engine.CompareSettings
	var settings string
	cmd := &cobra.Command{
		Use:   "compare WEEK1 WEEK2... --field BOUNDARY --out FOLDER",
		Short: "Tell what grew, what died, whether the spray worked, and when to go back",
		Long: `compare lays several visits to the same fields on one another. Each WEEK is a file
of counts, a folder that map wrote, or a season file, which holds several visits. A
single file of counts with several days is parted by them. All visits are assessed
with the settings and in the boundary of the newest visit, where its season or folder
of map keeps them. Else they are the defaults of map; flags go before them.

It tells how the mean changed and whether that stands out from the noise. It tells how
much ground went from zone to zone, where each hotspot went, and when ground will reach
the treat level. With the ground that was treated it tells whether that worked, by stops
in ground that nobody treated between the visits. Growth, days and forecast
then come from ground that was not treated; with too few stops in it there is no
forecast. Numbers grow by a factor, shares of a --tally by one of their odds.

A season that was merged may hold two visits of a field's day: --without says which
is left out.

Stops that lie close are taken as one place. Where fewer than six are, the visits
are compared by all their stops.

It writes change.geojson, hotspots.geojson, change.kml with time spans,
compare.json and run.json. With --forecast
it writes forecast.geojson, with --cells
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
	compareFlags(f, &o)
	mapped.flags(f)
	f.Lookup("write").Usage = "`report` for a page to look at besides"
	detailsFlag(f, &mapped.Details)
	f.StringVar(&settings, "settings", "", "TOML `FILE` with settings of map called as the flags are; flags go before it")
	grouped(cmd, ofCompare())
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		args, err := matched(args)
		if err != nil {
			return err
		}
		if err := settled(s, args...); err != nil {
			return err
		}
		c := compareRun{options: o, weeks: args, settings: settings, details: mapped.Details, given: f}
		return c.run(cmd.Context(), s)
	}
	return cmd
}

// compareRun is one call of the compare command.
type compareRun struct {
	mapped   mapOptions
	options  engine.CompareSettings
	weeks    []string
	settings string // path of the settings file; "" for none
	details  bool
	given    *pflag.FlagSet
}

func (c *compareRun) run(ctx context.Context, s Streams) error {
	weeks, closeAll, err := openWeeks(c.weeks)
	if err != nil {
		return err
	}
	defer closeAll()
	if weeks, err = engine.WithoutVisits(weeks, c.options.Without); err != nil {
		return err
	}
	q := engine.CompareRequest{Weeks: weeks, Compare: c.options, Version: version()}
	if err := c.settle(&q); err != nil {
		return err
	}
	q.Memory = s.memory
	if c.mapped.Out == "" {
		return missingFlag("out")
	}
	stale, err := checkOwnFolder(c.mapped.Out, c.paths(q), c.mapped.Force)
	if err != nil {
		return err
	}
	if q.Boundary, err = loadAsked(c.mapped.Field); err != nil {
		return err
	}
	if q.Treated, err = loadAsked(c.options.Treated); err != nil {
		return err
	}
	made, err := engine.Compare(ctx, q)
	if err != nil {
		return failed(s, err)
	}
	if err := writeFolder(s, c.mapped.Out, outFiles(made.Files), stale); err != nil {
		return err
	}
	if !c.mapped.Quiet {
		s.notes(c.unnamedSprays(made), c.mapped.Language)
	}
	if err := c.print(s, q.Weeks, made); err != nil {
		return err
	}
	return c.mapped.strictly(made.SetAside)
}

// settle finds the settings of the call; those that a season or a folder of map keeps
// stand in for the defaults.
func (c *compareRun) settle(q *engine.CompareRequest) error {
	kept, ok, err := engine.Adopted(q.Weeks)
	if err != nil {
		return err
	}
	base := engine.Defaults()
	if ok {
		base, q.Adopted, q.Asked = kept.Settings, kept.Settings, c.given.Changed
	}
	if c.mapped, q.Config, err = settleOver(base, c.given, c.settings); err != nil {
		return err
	}
	if !ok {
		q.Setup, err = setupOf(c.mapped.Settings)
		return err
	}
	c.findMoved(q.Weeks)
	var lost func(string) string
	if slices.ContainsFunc(q.Weeks, func(w engine.Week) bool { return w.Season != nil }) {
		lost = func(setting string) string { return fmt.Sprintf("say where it lies now with --%s", setting) }
	}
	q.Setup, err = setupOver(c.mapped.Settings, kept, c.given, lost)
	return err
}

// paths are those of the files that are read.
func (c *compareRun) paths(q engine.CompareRequest) (paths []string) {
	for _, n := range q.Settings.NamedFiles() {
		if !q.Kept[n.Setting] {
			paths = append(paths, *n.Path)
		}
	}
	for _, w := range q.Weeks {
		if w.Folder != nil {
			paths = append(append(paths, w.Folder.Run.Name, w.Folder.Summary.Name), w.Folder.Inputs()...)
		}
	}
	paths = append(append(paths, c.weeks...), c.settings, c.mapped.Field, c.options.Treated)
	return slices.DeleteFunc(paths, func(p string) bool { return p == "" })
}

func (c *compareRun) print(s Streams, weeks []engine.Week, made *engine.CompareOutcome) error {
	switch {
	case c.mapped.Quiet:
		return nil
	case c.mapped.JSON:
		return report.WriteCompareSummary(s.Out, made.Result)
	}
	screen := report.CompareScreen{Result: made.Result, Now: made.Now, Units: c.mapped.Said(), Notes: made.Notes, Out: c.mapped.Out, Files: fileNames(made.Files)}
	if c.details {
		screen.Units = c.mapped.Units
		return screen.Write(s.Out)
	}
	return s.show(append(report.CompareBrief{CompareScreen: screen, Width: s.columns()}.Lines(), c.next(weeks, screen)...))
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
			return engine.IsCompareFile(name) && slices.Contains(made.Files, name)
		}
		return slices.Contains(engine.CompareFiles[:], name) || made.Compare.Cells && engine.IsCompareFile(name)
	}
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
