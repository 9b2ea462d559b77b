package cli

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"slices"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"github.com/geocoris/geocoris/internal/engine"
	"github.com/geocoris/geocoris/internal/engine/disk"
	"github.com/geocoris/geocoris/internal/output/report"
)

func newMap(s Streams) *cobra.Command {
	var given mapOptions
	var settings string
	var byGrowers bool
	var part string
	var jobs int
	var resume bool
	cmd := &cobra.Command{
		Use:   "map SAMPLES... --field BOUNDARY --out FOLDER",
		Short: "Where to spray, where to watch and what is clear, by a morning's counts",
		Long: `map reads counts with their positions and field boundaries. It parts each field into
ground to spray, to watch and clear (in files treat, watch and clear), by inverse
distance weighting of the counts. Counts are CSV, .xlsx, or points of GeoJSON, KML,
KMZ, GPX, a Shapefile or a GeoPackage. There is one row for a leaf, a plant or a stop;
- reads standard input.

Columns: stop, longitude, latitude, count are required. Read too are leaves (how many
were looked at), empty (how many more held nothing), plant, leaf, date and time. So are
mean_per_leaf, infested, observer, pest, stage, accuracy_m and notes. In place of count
there may be groups and group_size. Common other names for all of these are read too. A count
may be a class such as 11-50. Positions may have minutes and seconds, or come as
easting and northing (--utm) or as wkt. A row that cannot be used is named with
its line and how to fix it. Ground far from any stop is never clear. Many files may be
given at once, also by a pattern in quotes, such as 'counts/*.csv'.

It writes zones.geojson, zones.kml, zones.kmz, stops.geojson, summary.json and
run.json. Exit codes: 0 done; 1 could not be done; 2 wrong usage; 3 done, but rows
were set aside and --strict was given.`,
		Example: `  # sorghum aphids, the published level of 40 per leaf
  geocoris map week2.csv --field field.geojson --out out

  # levels of your own region, treat ground grown by 10 m, areas in acres
  geocoris map week2.csv --field farm.kml --out out --treat-at 50 --watch-at 15 --margin 10 --units us

  # the share of plants with 50 aphids or more, treated from 20 % on
  geocoris map plants.csv --field farm.kml --out out --unit plant --tally 50 --treat-at 20 --watch-at 5

  # a whole farm: what is known of each field, a folder for each grower, an overview
  geocoris map 'counts/*.csv' --field farm.geojson --fields fields.csv --by-grower --out out

  # settings from a file, the summary to another program
  geocoris map week2.csv --settings farm.toml --json | jq .fields[0].zones`,
		Args: usageArgs(atLeastOneSample),
	}
	given.flags(cmd.Flags())
	cmd.Flags().SortFlags = false
	cmd.Flags().SetNormalizeFunc(alsoRevisit)
	detailsFlag(cmd.Flags(), &given.Details)
	cmd.Flags().BoolVar(&byGrowers, "by-grower", false, "a folder for each grower that --fields names, and an overview of all fields beside them")
	cmd.Flags().StringVar(&part, "part", "", "map the `K/N` part of the fields alone, such as 3/20, so that several machines share a region")
	cmd.Flags().IntVar(&jobs, "jobs", 0, "work on `N` fields at once (as many as there are cores)")
	cmd.Flags().BoolVar(&resume, "resume", false, "go on where a run of this map was stopped, with the same files")
	cmd.Flags().StringVar(&settings, "settings", "", "TOML `FILE` with settings called as the flags are; flags go before it")
	grouped(cmd, ofMap())
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		o, config, err := settle(cmd.Flags(), settings)
		if err != nil {
			return err
		}
		if args, err = matched(args); err != nil {
			return err
		}
		for _, required := range []struct{ name, value string }{{"field", o.Field}, {"out", o.Out}} {
			if required.value == "" && required.name == "field" && o.Fields != "" {
				return usageError{hintedError{missingFlag("field"), "did you mean --field? --fields tells what is known of each field"}}
			}
			if required.value == "" {
				return missingFlag(required.name)
			}
		}
		o.Details = given.Details
		m := mapRun{options: o, samples: args, settings: settings, config: config, byGrowers: byGrowers, jobs: jobs, resume: resume}
		if cmd.Flags().Changed("jobs") && jobs < 1 {
			return usageError{fmt.Errorf("--jobs %d: want the number of fields to work on at once, 1 or more", jobs)}
		}
		if cmd.Flags().Changed("part") {
			if m.part, err = engine.ParsePart(part); err != nil {
				return err
			}
		}
		return runMap(cmd.Context(), s, m)
	}
	return cmd
}

func atLeastOneSample(_ *cobra.Command, args []string) error {
	if len(args) == 0 {
		return errors.New("no counts given: want a file of counts or more, such as week2.csv")
	}
	return nil
}

// mapRun is one call of the map command.
type mapRun struct {
	options  mapOptions
	samples  []string
	settings string // the path of config; "" for none
	config   *engine.Source

	byGrowers bool        // into a folder for each grower
	part      engine.Part // of the fields; zero for all
	jobs      int         // fields at once; 0 for as many as there are cores
	resume    bool        // goes on where a run was stopped
}

func (m mapRun) inputs() []string {
	in := append(append([]string(nil), m.samples...), m.options.Field)
	if m.settings != "" {
		in = append(in, m.settings)
	}
	for _, n := range m.options.NamedFiles() {
		if *n.Path != "" {
			in = append(in, *n.Path)
		}
	}
	return in
}

// mapNames are the names of files of the map command that its folder may hold: those of
// pictures of fields go by the fields that the folder tells of.
func mapNames(out string) []string {
	names := append(engine.MapFiles[:], engine.PictureFiles[:]...)
	if there, err := mapFolder(out); err == nil {
		names = append(names, there.Pictures()...)
	}
	return names
}

func runMap(ctx context.Context, s Streams, m mapRun) error {
	q := engine.MapRequest{Setup: engine.Setup{Settings: m.options.Settings}, Config: m.config, Version: version(), Today: s.Today, Jobs: m.jobs, Part: m.part}
	if err := q.Check(); err != nil {
		return err
	}
	if m.byGrowers {
		return m.byGrower(ctx, s, q)
	}
	if err := checkFolder(m.options.Out, m.inputs(), mapNames(m.options.Out), m.options.Force); err != nil {
		return err
	}
	if err := checkRun(m.options.Out, "map"); err != nil {
		return err
	}
	if err := m.load(&q, s); err != nil {
		return err
	}
	progress := newProgress(s.Err, m.options.Quiet)
	q.Progress, q.AsWritten = progress.show, true
	part := aPart{run: m, boundary: q.Boundary}
	q.Over = part.over
	work := resumable{run: m, streams: s}
	q.Keep = work.open
	made, err := engine.Map(ctx, q)
	progress.clear()
	if err != nil {
		work.stopped()
	}
	var nothing engine.NothingInPart
	if errors.As(err, &nothing) {
		return m.nothing(s, nothing)
	}
	if err != nil {
		return failed(s, err)
	}
	if !m.options.Quiet {
		s.notes(made.FarDays, m.options.Language)
	}
	if err := work.written(part.write(s, work.kept, made)); err != nil {
		return err
	}
	if !m.options.Quiet {
		s.notes(m.options.sprayedBefore(made), m.options.Language)
	}
	if err := m.options.print(s, made); err != nil {
		return err
	}
	return m.options.strictly(made.SetAside())
}

// nothing says that a part holds nothing to be mapped. A map that stands there already
// would be taken for today's.
func (m mapRun) nothing(s Streams, why engine.NothingInPart) error {
	if isMapFolder(m.options.Out) {
		return hintedError{fmt.Errorf("%w; %s holds an earlier map", why, m.options.Out), "choose another folder with --out, or move that one away"}
	}
	m.note(s, why.Error()+"; nothing was written")
	if m.options.JSON && !m.options.Quiet {
		return report.WriteSummary(s.Out, why.Result())
	}
	return nil
}

// filesOf are the files of a map, made as they are written. A packed one comes after the
// others, as it waits for what it is packed from, in the place of another file.
func filesOf(made *engine.MapOutcome) []outFile {
	var out, packed []outFile
	for _, f := range outFiles(made.Files) {
		f.make = made.Make[f.name]
		if filepath.Ext(f.name) == ".kmz" {
			packed = append(packed, f)
		} else {
			out = append(out, f)
		}
	}
	return append(out, packed...)
}

func (m mapRun) load(q *engine.MapRequest, s Streams) (err error) {
	if q.Boundary, err = disk.Load(m.options.Field); err != nil {
		return err
	}
	if q.Setup, err = setupOf(m.options.Settings); err != nil {
		return err
	}
	q.Incoming, q.Memory = true, s.memory
	q.Samples, err = loadSamples(m.samples, s.In)
	return err
}

// mostProblems is how many problems are printed where nothing came out.
const mostProblems = 20

// failed names the rows that were set aside where nothing came out, so that the
// reason can be seen.
func failed(s Streams, err error) error {
	var nothing engine.NothingUsable
	if !errors.As(err, &nothing) {
		return err
	}
	lines := nothing.Lines()
	for i, line := range lines {
		if i == mostProblems {
			fmt.Fprintf(s.Err, "  and %d more; check names them all\n", len(lines)-i)
			break
		}
		fmt.Fprintf(s.Err, "  %s\n", line)
	}
	return err
}

// strictly is an error where rows were set aside and none may be.
func (o mapOptions) strictly(aside int) error {
	if o.Strict && aside > 0 {
		return strictError{aside}
	}
	return nil
}

// print shows a map on the screen.
func (o mapOptions) print(s Streams, made *engine.MapOutcome) error {
	switch {
	case o.Quiet:
		return nil
	case o.JSON:
		return report.WriteSummary(s.Out, made.Result, made.Verdicts...)
	}
	screen := report.Screen{Result: made.Result, Verdicts: made.Verdicts, Units: o.Said(), Notes: made.Notes, Out: o.Out}
	screen.Files = engine.Listed(made.Files)
	if o.Details {
		screen.Units = o.Units
		if err := screen.Write(s.Out); err != nil {
			return err
		}
		return s.show(slices.Concat(o.walks(made), o.next(made)))
	}
	return s.show(slices.Concat(report.Brief{Screen: screen, Width: s.columns()}.Lines(), o.walks(made), o.next(made)))
}

// detailsFlag asks for the figures behind a short screen.
func detailsFlag(f *pflag.FlagSet, details *bool) {
	f.BoolVar(details, "details", false, "print all figures, and where the levels come from")
}
