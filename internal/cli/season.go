package cli

import (
	"errors"
	"fmt"
	"path/filepath"
	"strings"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"github.com/geocoris/geocoris/internal/engine"
	"github.com/geocoris/geocoris/internal/followup/compare"
	"github.com/geocoris/geocoris/internal/followup/season"
	"github.com/geocoris/geocoris/internal/language/figures"
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
becomes of the program; two that add at once wait for one another.`,
		Example: `  geocoris season add season.gpkg trial/week1.csv --field trial/field.geojson
  geocoris season list season.gpkg
  geocoris season show season.gpkg 1
  geocoris season export season.gpkg --out back
  geocoris compare season.gpkg --out change`,
		Args: usageArgs(noSuchCommand),
		RunE: func(cmd *cobra.Command, _ []string) error { return cmd.Help() },
	}
	cmd.AddCommand(newSeasonAdd(s), newSeasonList(s), newSeasonShow(s), newSeasonExport(s))
	return cmd
}

func newSeasonAdd(s Streams) *cobra.Command {
	var mapped mapOptions
	var settings, treated, treatedOn string
	cmd := &cobra.Command{
		Use:   "add SEASON SAMPLES... --field BOUNDARY",
		Short: "Add a visit, or a treatment, to a season file",
		Long: `add stores the counts of one visit in a season file, with the boundary and the
settings, which are those of map, the files that these name (--observers, --schema,
--rules), and stops and zones for map programs. The file is made where there is
none. With --treated it stores treated ground, with or
without counts. The same counts with the same settings are not stored twice.`,
		Example: `  geocoris season add season.gpkg week1.csv --field field.geojson
  geocoris season add season.gpkg week2.csv --field field.geojson --treat-at 50
  geocoris season add season.gpkg --treated sprayed.geojson --treated-on 2031-08-15`,
		Args: usageArgs(cobra.MinimumNArgs(1)),
	}
	f := cmd.Flags()
	f.SortFlags = false
	f.StringVar(&treated, "treated", "", "`FILE` with ground that was treated: polygons, with properties date, note, reentry_hours")
	f.Var(day{&treatedOn}, "treated-on", "`day` of the treatment, where the file does not tell it")
	mapped.flags(f)
	_ = f.MarkHidden("write")
	_ = f.MarkHidden("out") // of map; nothing is written but the season file
	f.StringVar(&settings, "settings", "", "TOML `FILE` with settings of map called as the flags are; flags go before it")
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		merged, _, err := settle(f, settings)
		if err != nil {
			return err
		}
		a := seasonAdd{path: args[0], samples: args[1:], mapped: merged, treated: treated, treatedOn: treatedOn}
		switch {
		case len(a.samples) == 0 && treated == "":
			return usageError{errors.New("nothing to add: want files of counts, or --treated")}
		case len(a.samples) > 0 && merged.Field == "":
			return missingFlag("field")
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
}

func (a seasonAdd) run(cmd *cobra.Command, s Streams) error {
	var visit *season.Visit
	if len(a.samples) > 0 {
		v, err := a.visit(cmd, s)
		if err != nil {
			return err
		}
		visit = &v
	}
	var treatments []compare.Treatment
	if a.treated != "" {
		ground, err := load(a.treated)
		if err != nil {
			return err
		}
		if treatments, err = engine.TreatmentsOf(ground, a.treatedOn); err != nil {
			return err
		}
	}
	file, err := season.OpenToAdd(a.path)
	if err != nil {
		return mendBroken(err)
	}
	defer file.Close()
	if visit != nil {
		id, err := file.Add(*visit)
		if errors.Is(err, season.ErrKnown) {
			return hintedError{fmt.Errorf("%s: %w, as visit %d", filepath.Base(a.path), err, id), "nothing was added"}
		}
		if err != nil {
			return err
		}
		fmt.Fprintf(s.Out, "stored as visit %d in %s: %s, %s\n", id, a.path, named(visit.Date), figures.Counted(len(visit.Stops), "stop"))
	}
	for _, t := range treatments {
		id, err := file.AddRecord(season.Record{Date: t.Date, Note: t.Note, ReentryHours: t.ReentryHours, Ground: t.Ground})
		if err != nil {
			return err
		}
		fmt.Fprintf(s.Out, "stored as treatment %d in %s: %s\n", id, a.path, t.Date)
	}
	return nil
}

// mendBroken tells what to do about a season that is damaged.
func mendBroken(err error) error {
	if errors.Is(err, season.ErrBroken) {
		return hintedError{err, "take a copy of the file that is whole; season export may still give visits back"}
	}
	return err
}

func named(date string) string {
	if date == "" {
		return "day not told"
	}
	return date
}

func (a seasonAdd) visit(cmd *cobra.Command, s Streams) (v season.Visit, err error) {
	var q engine.VisitRequest
	if q.Samples, err = loadSamples(a.samples, s.In); err != nil {
		return v, err
	}
	if q.Setup, err = setupOf(a.mapped.Settings); err != nil {
		return v, err
	}
	if q.Boundary, err = load(a.mapped.Field); err != nil {
		return v, err
	}
	v, err = engine.VisitOf(cmd.Context(), q)
	return v, failed(s, err)
}

func newSeasonList(s Streams) *cobra.Command {
	var asJSON bool
	cmd := &cobra.Command{
		Use:     "list SEASON",
		Short:   "List the visits and treatments of a season file",
		Example: `  geocoris season list season.gpkg`,
		Args:    usageArgs(cobra.ExactArgs(1)),
		RunE:    func(_ *cobra.Command, args []string) error { return runSeasonList(s, args[0], asJSON) },
	}
	cmd.Flags().BoolVar(&asJSON, "json", false, "print it as JSON")
	return cmd
}

func runSeasonList(s Streams, path string, asJSON bool) error {
	file, err := season.Open(path)
	if err != nil {
		return err
	}
	defer file.Close()
	if err := file.Check(); err != nil {
		return mendBroken(err)
	}
	lines, err := file.List()
	if err != nil {
		return err
	}
	records, err := file.Records()
	if err != nil {
		return err
	}
	if asJSON {
		type treatment struct {
			Date string `json:"date"`
			Note string `json:"note"`
		}
		out := struct {
			Visits     []season.Line `json:"visits"`
			Treatments []treatment   `json:"treatments"`
		}{append([]season.Line{}, lines...), []treatment{}}
		for _, r := range records {
			out.Treatments = append(out.Treatments, treatment{r.Date, r.Note})
		}
		return report.WriteJSON(s.Out, out)
	}
	t := tabwriter.NewWriter(s.Out, 0, 0, 2, ' ', 0)
	fmt.Fprintln(t, "visit\tday\tstops\tpest\tunit\tfiles")
	for _, l := range lines {
		fmt.Fprintf(t, "%d\t%s\t%d\t%s\t%s\t%s\n", l.ID, named(l.Date), l.Stops, l.Pest, l.Unit, strings.Join(l.Files, ", "))
	}
	for _, r := range records {
		fmt.Fprintf(t, "treatment\t%s\t\t%s\n", r.Date, r.Note)
	}
	return t.Flush()
}

func newSeasonShow(s Streams) *cobra.Command {
	var shown figures.Units
	var asJSON bool
	cmd := &cobra.Command{
		Use:   "show SEASON [VISIT]",
		Short: "Work a visit of a season file out anew and show it",
		Long: `show works a visit out from its counts with the fields and settings it was added
with. Without a number it is the last visit.`,
		Example: `  geocoris season show season.gpkg 2`,
		Args:    usageArgs(cobra.RangeArgs(1, 2)),
		RunE: func(cmd *cobra.Command, args []string) error {
			return runSeasonShow(cmd, s, seasonShow{args: args, units: shown, json: asJSON})
		},
	}
	cmd.Flags().Var(&shown, "units", "`us` or metric on the screen (both)")
	cmd.Flags().BoolVar(&asJSON, "json", false, "print the summary as JSON")
	return cmd
}

type seasonShow struct {
	args  []string
	units figures.Units
	json  bool
}

func runSeasonShow(cmd *cobra.Command, s Streams, show seasonShow) error {
	file, err := season.Open(show.args[0])
	if err != nil {
		return err
	}
	defer file.Close()
	visit, err := chosenVisit(file, show.args[1:])
	if err != nil {
		return err
	}
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
	o := mapOptions{Settings: w.Settings, JSON: show.json}
	o.Units, o.Out = show.units, fmt.Sprintf("visit %d of the season", visit.ID)
	return o.print(s.Out, made)
}

// chosenVisit is the visit of a number, or the last one.
func chosenVisit(file *season.Season, args []string) (season.Visit, error) {
	var id int64
	if len(args) > 0 {
		if _, err := fmt.Sscan(args[0], &id); err != nil {
			return season.Visit{}, usageError{fmt.Errorf("visit %q: want a number as season list shows it", args[0])}
		}
		return file.Visit(id)
	}
	return engine.ChosenVisit(file, 0)
}
