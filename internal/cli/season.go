package cli

import (
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"github.com/geocoris/geocoris/internal/engine"
	"github.com/geocoris/geocoris/internal/engine/disk"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/language/vocabulary"
	"github.com/geocoris/geocoris/internal/output/report"
)

func newSeason(s Streams) *cobra.Command {
	cmd := &cobra.Command{
		Use:   "season",
		Short: "Keep a season's visits in one file that map programs open",
		Long: `season keeps fields, counts, settings and treatments of a season in one GeoPackage.
The counts, and files that the settings name, are kept byte for byte and given back
so; maps are worked out anew when they are asked for, from nothing but what is kept,
so the file can be moved. What was reported as stored is on the disk, whatever
becomes of the program; two that add at once wait for one another.

A team keeps its season in a PostgreSQL database with PostGIS instead: the commands,
compare and serve take postgres://USER@HOST/DATABASE where they take a file. The
password comes from PGPASSWORD or ~/.pgpass.`,
		Example: `  geocoris season add season.gpkg trial/week1.csv --field trial/field.geojson
  geocoris season list season.gpkg
  geocoris season show season.gpkg 1
  geocoris season export season.gpkg --out back
  geocoris season merge office.gpkg anna.gpkg ben.gpkg
  geocoris compare season.gpkg --out change`,
		Args: usageArgs(noSuchCommand),
		RunE: func(cmd *cobra.Command, _ []string) error { return cmd.Help() },

		SuggestionsMinimumDistance: nearest,
	}
	cmd.AddCommand(newSeasonAdd(s), newSeasonList(s), newSeasonShow(s), newSeasonExport(s), newSeasonMerge(s), newSeasonCopy(s), newSeasonRoles(s))
	return cmd
}

func newSeasonAdd(s Streams) *cobra.Command {
	var mapped mapOptions
	var settings, treated, treatedOn, author string
	var replace bool
	var inPlaceOf []int64
	cmd := &cobra.Command{
		Use:   "add SEASON SAMPLES... --field BOUNDARY",
		Short: "Add a visit, or a treatment, to a season file",
		Long: `add stores the counts of one visit in a season file, with the boundary and the
settings, which are those of map. The files that these name (--observers, --schema,
--rules) go in too, and stops and zones for map programs. The file is made where there is
none. With --treated it stores treated ground, with or
without counts. The same counts with the same settings are not stored twice. Nor are
two visits of a field on one day, nor the same counts under another day. --replace
puts the new one in place of the old, --replace-visit in place of any other. That has
to be of the same --author or of none. Of a walk in parts give the files of all at
once. Give the author where files are to be merged.`,
		Example: `  geocoris season add season.gpkg week1.csv --field field.geojson
  geocoris season add season.gpkg week2.csv --field field.geojson --treat-at 50
  geocoris season add season.gpkg --treated sprayed.geojson --treated-on 2031-08-15`,
		Args: takes(1, anyNumber),
	}
	f := cmd.Flags()
	f.SortFlags = false
	f.StringVar(&treated, "treated", "", "`FILE` with ground that was treated: polygons, with properties date, note, reentry_hours")
	f.Var(day{&treatedOn}, "treated-on", "`day` of the treatment, where the file does not give it")
	f.BoolVar(&replace, "replace", false, "put the visit in place of the one of the same day, or of the same counts, such as after a correction")
	f.Var(visits{&inPlaceOf}, "replace-visit", "put the visit in place of those of these `numbers`, such as where the day was wrong")
	f.StringVar(&author, "author", "", "`NAME` of who brings the visit; several are parted by semicolons")
	mapped.flags(f)
	_ = f.MarkHidden("write")
	_ = f.MarkHidden("only")
	_ = f.MarkHidden("out") // of map; nothing is written but the season file
	f.StringVar(&settings, "settings", "", "TOML `FILE` with settings of map called as the flags are; flags go before it")
	grouped(cmd, ofSeasonAdd())
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		merged, _, err := settle(f, settings)
		if err != nil {
			return err
		}
		samples, err := matched(args[1:])
		if err != nil {
			return err
		}
		a := seasonAdd{path: args[0], samples: samples, mapped: merged, treated: treated, treatedOn: treatedOn, replace: replace, inPlaceOf: inPlaceOf, author: author}
		switch {
		case len(a.samples) == 0 && treated == "":
			return usageError{errors.New("nothing to add: want files of counts, or --treated")}
		case len(a.samples) > 0 && merged.Field == "":
			return missingFlag("field")
		case len(a.samples) == 0 && len(inPlaceOf) > 0:
			return usageError{errors.New("--replace-visit wants the counts that take its place")}
		}
		return a.run(cmd, s)
	}
	return cmd
}

// seasonAdd is one call of season add.
type seasonAdd struct {
	path               string
	samples            []string
	mapped             mapOptions
	treated, treatedOn string
	replace            bool    // the visit of the same day, or counts
	inPlaceOf          []int64 // numbers of visits
	author             string  // "" where nobody says
}

func (a seasonAdd) run(cmd *cobra.Command, s Streams) error {
	q := engine.SeasonAddRequest{Season: a.path, TreatedOn: a.treatedOn, Today: s.Today, Replace: a.replace, InPlaceOf: a.inPlaceOf}
	if err := a.load(&q, s); err != nil {
		return err
	}
	near := disk.NearSeason(a.path)
	done := func() error { return nil }
	defer func() { _ = done() }()
	q.Open = func() (file engine.SeasonWriter, err error) {
		file, closeIt, err := disk.OpenSeasonToAdd(a.path)
		if err == nil {
			done = closeIt
		}
		return file, err
	}
	stored, err := engine.AddToSeason(cmd.Context(), q)
	u := figures.Both.In(a.mapped.Language)
	for _, v := range stored.Visits {
		fmt.Fprintln(s.Out, u.Say("stored as visit %d in %s: %s, %s", v.ID, disk.ShownSeason(a.path), report.Day(v.Date, u), u.Counted(v.Stops, "stop")))
	}
	for _, t := range stored.Treatments {
		fmt.Fprintln(s.Out, u.Say("stored as treatment %d in %s: %s", t.ID, disk.ShownSeason(a.path), t.Date))
	}
	if near != "" && len(stored.Visits)+len(stored.Treatments) > 0 {
		s.notes([]string{fmt.Sprintf("%s is a new season, and %s lies beside it: was that one meant?", disk.ShownSeason(a.path), near)}, a.mapped.Language)
	}
	for _, line := range stored.Rows {
		fmt.Fprintln(s.Err, line)
	}
	s.notes(stored.Notes, a.mapped.Language)
	if err != nil {
		return failed(s, err)
	}
	return s.show(a.next(stored, u))
}

func (a seasonAdd) load(q *engine.SeasonAddRequest, s Streams) (err error) {
	for _, path := range a.samples {
		if path != stdin && disk.IsSeason(path) {
			return usageError{hintedError{fmt.Errorf("%s is a season, and counts are wanted", path), "the season stands first: geocoris season add SEASON COUNTS"}}
		}
	}
	if len(a.samples) > 0 {
		v := engine.VisitRequest{Author: a.author, Today: s.Today}
		if v.Samples, err = loadSamples(a.samples, s.In); err != nil {
			return err
		}
		if v.Setup, err = setupOf(a.mapped.Settings); err != nil {
			return err
		}
		v.Incoming, v.Memory = true, s.memory
		if v.Boundary, err = disk.Load(a.mapped.Field); err != nil {
			return err
		}
		q.Visit = &v
	}
	q.Treated, err = loadAsked(a.treated)
	return err
}

func newSeasonList(s Streams) *cobra.Command {
	var asJSON bool
	var language vocabulary.Language
	cmd := &cobra.Command{
		Use:     "list SEASON",
		Short:   "List the visits and treatments of a season file",
		Example: `  geocoris season list season.gpkg`,
		Args:    takes(1, 1),
		RunE:    func(_ *cobra.Command, args []string) error { return runSeasonList(s, args[0], language, asJSON) },
	}
	cmd.Flags().SortFlags = false
	cmd.Flags().Var(&language, "language", "`en` or es, for the list; errors are in English")
	cmd.Flags().BoolVar(&asJSON, "json", false, "print it as JSON")
	return cmd
}

func runSeasonList(s Streams, path string, language vocabulary.Language, asJSON bool) error {
	file, err := disk.OpenWholeSeason(path)
	if err != nil {
		return err
	}
	defer file.Close()
	list, err := engine.ListSeason(file)
	if err != nil {
		return err
	}
	s.notes(engine.SeasonNotes(file), language)
	if asJSON {
		return list.WriteJSON(s.Out)
	}
	return list.Write(s.Out, figures.Both.In(language))
}

func newSeasonShow(s Streams) *cobra.Command {
	var shown figures.Units
	var language vocabulary.Language
	var asJSON, details bool
	cmd := &cobra.Command{
		Use:   "show SEASON [VISIT]",
		Short: "Work a visit of a season file out anew and show it",
		Long: `show works a visit out from its counts with the fields and settings it was added
with. Without a number it is the last visit.`,
		Example: `  geocoris season show season.gpkg 2`,
		Args:    takes(1, 2),
		RunE: func(cmd *cobra.Command, args []string) error {
			return runSeasonShow(cmd, s, seasonShow{args: args, units: shown, language: language, json: asJSON, details: details})
		},
	}
	cmd.Flags().Var(&shown, "units", "`us` or metric on the screen (both)")
	cmd.Flags().Var(&language, "language", "`en` or es, for the short screen; --details, errors and some notes are in English")
	cmd.Flags().BoolVar(&asJSON, "json", false, "print the summary as JSON")
	detailsFlag(cmd.Flags(), &details)
	return cmd
}

type seasonShow struct {
	args          []string
	units         figures.Units
	language      vocabulary.Language
	json, details bool
}

func runSeasonShow(cmd *cobra.Command, s Streams, show seasonShow) error {
	file, err := disk.OpenSeason(show.args[0])
	if err != nil {
		return err
	}
	defer file.Close()
	number, err := chosenVisit(show.args[1:])
	if err != nil {
		return err
	}
	visit, err := engine.ChosenVisit(file, number...)
	if err != nil {
		return err
	}
	notes, err := engine.BesideNotes(file, visit.ID)
	if err != nil {
		return err
	}
	treated, err := engine.TreatedNotes(file, visit)
	if err != nil {
		return err
	}
	s.notes(append(notes, treated...), show.language)
	kept, err := engine.Kept(visit)
	if err != nil {
		return err
	}
	w, err := setupOver(kept.Settings, kept, nil, func(string) string { return "put it back there, or add the counts anew" })
	if err != nil {
		return fmt.Errorf("visit %d: %w", visit.ID, err)
	}
	made, err := engine.ShowVisit(cmd.Context(), w, visit)
	if err != nil {
		return failed(s, err)
	}
	o := mapOptions{Settings: w.Settings, JSON: show.json, Details: show.details}
	o.Units, o.Language = show.units, show.language
	o.Out = figures.Both.In(show.language).Say("visit %d of the season", visit.ID)
	if err := o.print(s, made); err != nil || show.json {
		return err
	}
	beside, err := engine.BesideOthers(file, visit.ID)
	if err != nil || !beside {
		return err
	}
	return s.show(next(o.Said(), "compare", disk.ShownSeason(show.args[0]), "--out", "change"))
}

// chosenVisit is the number of a visit; none for the last one.
func chosenVisit(args []string) (number []int64, err error) {
	if len(args) == 0 {
		return nil, nil
	}
	var id int64
	if _, err := fmt.Sscan(args[0], &id); err != nil {
		return nil, usageError{fmt.Errorf("visit %q: want a number as season list shows it", args[0])}
	}
	return []int64{id}, nil
}
