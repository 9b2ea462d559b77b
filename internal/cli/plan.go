package cli

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"github.com/geocoris/geocoris/internal/engine"
	"github.com/geocoris/geocoris/internal/engine/disk"
	"github.com/geocoris/geocoris/internal/output/report"
	"github.com/geocoris/geocoris/internal/web"
	"github.com/geocoris/geocoris/internal/web/call"
)

func newPlan(s Streams) *cobra.Command {
	var o planOptions
	cmd := &cobra.Command{
		Use:   "plan --field BOUNDARY --stops N --out FOLDER",
		Short: "Where to stop in a field, and in which order to walk",
		Long: `plan spreads stops over a field so that no ground lies far from one, at least
25 ft (7.6 m) inside the edge. It finds a short walk through them. Stops along the
edge, where pests are often worse, are added with --edge and marked as such.

With --order spread any first stops are spread over the field, for a walk that may
end early or go on. That is balanced acceptance sampling (Robertson et al. 2013).

How many: at least 4, better 10 for a map to be judged at all. Or as many as a
standard error of the mean asks for, by Taylor's power law of the means of stops
(n = a·m^(b−2)/D², Karandinos 1976).

After a map, --after and --add find the stops that its answer asks for: round hot
ones, or on the ground farthest from any. Where it asks for none they find those that
should bring most ground to its right zone, near a level and far from others.

With --rule the table and the sheet ask for what that rule needs at a growth stage.
That is its columns, how many plants and leaves a stop, and which.

It writes stops.gpx, stops.kml, stops.geojson, sheet.html to print, and stops.csv
to be filled in and given to map. With --phone it writes phone.html besides, with
the field, its stops and the engine in one page. It is to walk and count with on a
phone, and needs no connection.`,
		Example: `  geocoris plan --field field.geojson --only Pivot --stops 24 --out walk

  # every field of a farm, a folder each
  geocoris plan --field farm.kml --all --stops 12 --out walks

  # rows run 15 degrees east of north; the gate; six stops along the edge
  geocoris plan --field farm.kml --stops 24 --heading 15 --start -101.6053,35.8925 --edge 6 --out walk

  # as many stops as a standard error of a quarter of the mean asks for
  geocoris plan --field farm.kml --precision 0.25 --taylor 2.586,1.511 --expect 10 --out walk

  # the table and the sheet that a rule needs
  geocoris plan --field field.geojson --only Pivot --stops 12 --rule sorghum-aphid-kansas --stage boot --out walk

  # the walk for a phone
  geocoris plan --field field.geojson --only Pivot --stops 20 --order spread --phone --out walk

  # five more stops where the map in out is least sure of its zones
  geocoris plan --field field.geojson --only Pivot --after out --add 5 --out more`,
		Args: takes(0, 0),
	}
	cmd.Flags().SortFlags = false
	o.flags(cmd.Flags())
	grouped(cmd, ofPlan())
	cmd.RunE = func(cmd *cobra.Command, _ []string) error {
		for _, required := range []struct{ name, value string }{{"field", o.Field}, {"out", o.Out}} {
			if required.value == "" {
				return missingFlag(required.name)
			}
		}
		q, err := o.request()
		if err != nil {
			return usageError{err}
		}
		return runPlan(cmd.Context(), s, o, q)
	}
	return cmd
}

// planOptions are the flags of plan.
type planOptions struct {
	engine.PlanSettings
	Field, Out, After string
	heading, start    string // as typed
	rules             string // file of the user's own
	keepOffs          keepOffs
	Phone, Force, All bool
}

func (o *planOptions) flags(f *pflag.FlagSet) {
	o.PlanSettings = engine.PlanDefaults()
	f.StringVar(&o.Field, "field", "", "boundary `FILE`: GeoJSON, KML or KMZ (required)")
	f.StringVar(&o.Only, "only", "", "`NAME` of the field, where the boundary holds several")
	f.BoolVar(&o.All, "all", false, "each field of the boundary by itself, into a folder of its name below --out")
	f.StringVar(&o.NameProperty, "name-property", "", "property of the boundary that names the fields")
	f.Var(&o.Inner, "inner", innerUsage)
	f.StringVar(&o.Out, "out", "", "`FOLDER` for the files, written whole or not at all (required)")
	f.IntVar(&o.Stops, "stops", 0, "number of stops")
	f.Float64Var(&o.Precision, "precision", 0, "in place of --stops: standard error as part of the mean, with --taylor and --expect")
	taylorFlag(f, &o.Taylor, "Taylor's `a,b` of the means of stops")
	f.Float64Var(&o.Expect, "expect", 0, "mean expected")
	f.StringVar(&o.After, "after", "", "`FOLDER` that map wrote: plan further stops for it")
	f.IntVar(&o.Add, "add", 0, "number of further stops, with --after")
	f.IntVar(&o.Edge, "edge", 0, "further stops along the edge, marked as such")
	f.Float64Var(&o.Inside, "inside", o.Inside, "`metres` from the edge to the nearest stop; less by itself in a field too narrow for it")
	o.keepOffs.bare = true
	f.Var(&o.keepOffs, "keep-off", "`FILE` of ground where nobody may stop, or FILE=SETBACK, such as hives.geojson=50m; may be given several times")
	f.StringVar(&o.heading, "heading", "", "lay the stops in rows along this direction, `degrees` from north clockwise")
	f.StringVar(&o.Order, "order", o.Order, "walk, the shortest way; or `spread`: any first stops are spread over the field, so that the walk may end early")
	f.StringVar(&o.start, "start", "", "where the walk begins: `longitude,latitude`")
	f.BoolVar(&o.OneWay, "one-way", false, "end at the last stop, not where the walk began")
	f.Float64Var(&o.Speed, "speed", o.Speed, "walking, `metres` per second")
	f.Float64Var(&o.Minutes, "minutes", o.Minutes, "at a stop")
	f.IntVar(&o.Leaves, "leaves", o.Leaves, "to be counted at a stop")
	f.Var(&o.Language, "language", "`en` or es, for the screen and the sheet; the table and errors are in English")
	f.StringVar(&o.Pest, "pest", "", "to be put into the table")
	f.StringVar(&o.Rule, "rule", "", "make table and sheet for this threshold rule, by its `name`")
	f.StringVar(&o.Stage, "stage", "", "growth `stage` for the rule")
	f.StringVar(&o.rules, "rules", "", "TOML `FILE` with rules of your own")
	f.Uint64Var(&o.Seed, "seed", o.Seed, "of the random choices")
	f.BoolVar(&o.Phone, "phone", false, "write phone.html besides: the walk with all it needs in one page for a phone")
	f.BoolVar(&o.Force, "force", false, "overwrite files of the same names")
}

// request is what is asked of the engine, without the files.
func (o planOptions) request() (q engine.PlanRequest, err error) {
	if o.Phone && o.rules != "" {
		return q, errors.New("--phone has the published rules alone: leave out --rules")
	}
	q.PlanSettings = o.PlanSettings
	if o.After != "" {
		q.After = &engine.PlanAfter{Name: o.After}
	}
	if o.heading != "" {
		v, err := strconv.ParseFloat(o.heading, 64)
		if err != nil {
			return q, fmt.Errorf("--heading %s: want degrees from north", o.heading)
		}
		q.Heading = &v
	}
	if o.start != "" {
		at, err := position(o.start)
		if err != nil {
			return q, fmt.Errorf("--start %s: %w", o.start, err)
		}
		q.Start = &at
	}
	return q, q.Check()
}

func position(text string) (lonlat [2]float64, err error) {
	var p engine.Place
	err = p.UnmarshalText([]byte(text))
	return p, err
}

func runPlan(ctx context.Context, s Streams, o planOptions, q engine.PlanRequest) error {
	if err := settled(s, o.After); err != nil {
		return err
	}
	if err := o.load(&q); err != nil {
		return err
	}
	if o.All {
		return o.planAll(ctx, s, q)
	}
	made, err := o.made(ctx, s, q)
	if err != nil {
		return err
	}
	return o.write(s, made)
}

// planAll plans a walk for each field. All are made before the first is written.
func (o planOptions) planAll(ctx context.Context, s Streams, q engine.PlanRequest) error {
	switch {
	case o.Only != "":
		return usageError{errors.New("--all plans each field: leave out --only")}
	case o.start != "" || o.After != "":
		return usageError{errors.New("--start and --after are of one field: leave out --all, and choose the field with --only")}
	}
	fields, err := q.Fields()
	if err != nil {
		return err
	}
	var all []*engine.PlanOutcome
	for _, f := range fields {
		q.Only, o.Only = f.Name, f.Name // for the page of a phone
		made, err := o.made(ctx, s, q)
		if err != nil {
			return fmt.Errorf("field %q: %w", f.Name, err)
		}
		all = append(all, made)
	}
	out := o.Out
	for i, f := range fields {
		if i > 0 {
			fmt.Fprintln(s.Out)
		}
		fmt.Fprintln(s.Out, f.Name)
		o.Out, o.Only = filepath.Join(out, f.Folder), f.Name
		if err := o.write(s, all[i]); err != nil {
			return err
		}
	}
	return nil
}

func (o planOptions) made(ctx context.Context, s Streams, q engine.PlanRequest) (*engine.PlanOutcome, error) {
	made, err := engine.Plan(q)
	if err != nil || !o.Phone {
		return made, err
	}
	page, err := phonePage(ctx, s, made, o.PlanSettings)
	if err != nil {
		return nil, err
	}
	made.Files = append(made.Files, page)
	return made, nil
}

func (o planOptions) write(s Streams, made *engine.PlanOutcome) error {
	if err := writeOnce(s, onceFolder{o.Out, o.inputs(), o.Force}, made.Files); err != nil {
		return err
	}
	for _, n := range made.Notes {
		fmt.Fprintf(s.Err, "  %s\n", n)
	}
	return s.show(append(planLines(s, made, o.Out), o.mapping(made)...))
}

// planLines are the lines of the screen, none longer than it is wide.
func planLines(s Streams, made *engine.PlanOutcome, folder string) []report.Line {
	p := report.NewPaper(s.columns(), made.Plan.Said)
	for _, line := range strings.Split(strings.TrimRight(made.Plan.Text(), "\n"), "\n") {
		text := strings.TrimLeft(line, " ")
		p.Put(len(line)-len(text), report.Quiet, text)
	}
	names := fileNames(made.Files)
	p.Put(0, report.Quiet, made.Plan.Said.Say("Files in %s: %s", folder, strings.Join(names, ", ")))
	if slices.Contains(names, phoneFile) {
		p.Put(0, report.Quiet, made.Plan.Said.Say("To walk and count: take %s to the phone and open it there.", filepath.Join(folder, phoneFile)))
	}
	return p.Lines()
}

// phoneFile is the walk in one page for a phone.
const phoneFile = "phone.html"

// phonePage is the walk as one page that has all in it.
func phonePage(ctx context.Context, s Streams, made *engine.PlanOutcome, o engine.PlanSettings) (engine.File, error) {
	e, err := pageEngine(ctx, s)
	if err != nil {
		return engine.File{}, err
	}
	preset, err := call.Preset(made, o)
	if err != nil {
		return engine.File{}, err
	}
	page, err := web.Page(web.App(), e, preset)
	return engine.File{Name: phoneFile, Content: page}, err
}

func (o planOptions) inputs() []string {
	in := append([]string{o.Field}, o.keepOffs.paths()...)
	if o.After != "" {
		in = append(in, o.stopsOfMap())
	}
	return in
}

// stopsOfMap is the file of stops in the folder that map wrote.
func (o planOptions) stopsOfMap() string { return filepath.Join(o.After, "stops.geojson") }

// load takes the files that are asked for into memory.
func (o planOptions) load(q *engine.PlanRequest) (err error) {
	if q.Boundary, err = disk.Load(o.Field); err != nil {
		return err
	}
	if q.Rules, err = loadAsked(o.rules); err != nil {
		return err
	}
	for _, one := range o.keepOffs.files {
		from, err := disk.Load(one.path)
		if err != nil {
			return err
		}
		k := engine.KeepOff{File: from}
		if one.setBack != nil {
			k.SetBack = &one.setBack.Base
		}
		q.KeepOffs = append(q.KeepOffs, k)
	}
	if q.After == nil {
		return nil
	}
	if q.After.Summary, err = disk.Load(filepath.Join(o.After, "summary.json")); err != nil {
		return hintedError{err, "--after wants a folder that map wrote"}
	}
	if q.After.Stops, err = disk.Load(o.stopsOfMap()); err != nil {
		return err
	}
	folder, err := mapFolder(o.After)
	if err != nil {
		return err
	}
	return folder.Vouch(q.After.Stops)
}
