package cli

import (
	"errors"
	"fmt"
	"io"
	"math"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/engine"
	"github.com/geocoris/geocoris/internal/output/fieldwork"
	"github.com/geocoris/geocoris/internal/scouting/plan"
	"github.com/geocoris/geocoris/internal/scouting/sampling"
	"github.com/geocoris/geocoris/internal/spraying/handoff"
)

func newPlan(s Streams) *cobra.Command {
	var o planOptions
	cmd := &cobra.Command{
		Use:   "plan --field BOUNDARY --stops N --out FOLDER",
		Short: "Where to stop in a field, and in which order to walk",
		Long: `plan spreads stops over a field so that no ground lies far from one, at least
25 ft (7.6 m) inside the edge, and finds a short walk through them. Stops along the
edge, where pests are often worse, are added with --edge and marked as such.

How many: at least 4, better 10 for a map to be judged at all; or as many as a
standard error of the mean asks for, by Taylor's power law of the means of stops
(n = a·m^(b−2)/D², Karandinos 1976).

After a map, --after and --add find the further stops that are expected to bring
most ground to its right zone: those near a level and far from other stops.

It writes stops.gpx, stops.kml, stops.geojson, sheet.html to print, and stops.csv
to be filled in and given to map.`,
		Example: `  geocoris plan --field field.geojson --only Pivot --stops 24 --out walk

  # rows run 15 degrees east of north; the gate; six stops along the edge
  geocoris plan --field farm.kml --stops 24 --heading 15 --start -101.6053,35.8925 --edge 6 --out walk

  # as many stops as a standard error of a quarter of the mean asks for
  geocoris plan --field farm.kml --precision 0.25 --taylor 2.586,1.511 --expect 10 --out walk

  # five more stops where the map in out is least sure of its zones
  geocoris plan --field field.geojson --only Pivot --after out --add 5 --out more`,
		Args: usageArgs(cobra.NoArgs),
	}
	cmd.Flags().SortFlags = false
	o.flags(cmd.Flags())
	cmd.RunE = func(cmd *cobra.Command, _ []string) error {
		for _, required := range []struct{ name, value string }{{"field", o.Field}, {"out", o.Out}} {
			if required.value == "" {
				return missingFlag(required.name)
			}
		}
		set, why, err := o.settings()
		if err != nil {
			return usageError{err}
		}
		return runPlan(s, planRun{o, set, why})
	}
	return cmd
}

// planOptions are the flags of plan.
type planOptions struct {
	Field, Only, NameProperty, Out string
	Inner                          engine.Inner
	Stops, Edge, Leaves, Add       int
	After                          string
	Inside                         float64
	keepOffs                       keepOffs
	Heading, Start                 string
	OneWay                         bool
	Speed, Minutes                 float64
	Precision, Expect              float64
	Taylor                         []float64
	Pest                           string
	Seed                           uint64
	Force                          bool
}

func (o *planOptions) flags(f *pflag.FlagSet) {
	f.StringVar(&o.Field, "field", "", "boundary `FILE`: GeoJSON, KML or KMZ (required)")
	f.StringVar(&o.Only, "only", "", "`NAME` of the field, where the boundary holds several")
	f.StringVar(&o.NameProperty, "name-property", "", "property of the boundary that names the fields")
	f.Var(&o.Inner, "inner", innerUsage)
	f.StringVar(&o.Out, "out", "", "`FOLDER` for the files, written whole or not at all (required)")
	f.IntVar(&o.Stops, "stops", 0, "number of stops")
	f.Float64Var(&o.Precision, "precision", 0, "in place of --stops: standard error as part of the mean, with --taylor and --expect")
	f.Float64SliceVar(&o.Taylor, "taylor", nil, "Taylor's `a,b` of the means of stops")
	f.Float64Var(&o.Expect, "expect", 0, "mean expected")
	f.StringVar(&o.After, "after", "", "`FOLDER` that map wrote: plan further stops for it")
	f.IntVar(&o.Add, "add", 0, "number of further stops, with --after")
	f.IntVar(&o.Edge, "edge", 0, "further stops along the edge, marked as such")
	f.Float64Var(&o.Inside, "inside", 25*geo.MetresPerFoot, "`metres` from the edge to the nearest stop")
	o.keepOffs.bare = true
	f.Var(&o.keepOffs, "keep-off", "`FILE` of ground where nobody may stop, or FILE=SETBACK, such as hives.geojson=50m; may be given several times")
	f.StringVar(&o.Heading, "heading", "", "lay the stops in rows along this direction, `degrees` from north clockwise")
	f.StringVar(&o.Start, "start", "", "where the walk begins: `longitude,latitude`")
	f.BoolVar(&o.OneWay, "one-way", false, "end at the last stop, not where the walk began")
	f.Float64Var(&o.Speed, "speed", 1.1, "walking, `metres` per second")
	f.Float64Var(&o.Minutes, "minutes", 5, "at a stop")
	f.IntVar(&o.Leaves, "leaves", 10, "to be counted at a stop")
	f.StringVar(&o.Pest, "pest", "", "to be put into the table")
	f.Uint64Var(&o.Seed, "seed", 1, "of the random choices")
	f.BoolVar(&o.Force, "force", false, "overwrite files of the same names")
}

// settings are the options as the work takes them, and why so many stops.
func (o planOptions) settings() (set plan.Settings, why string, err error) {
	set = plan.Settings{Stops: o.Stops, Inside: o.Inside, Edge: o.Edge, OneWay: o.OneWay, Speed: o.Speed, Minutes: o.Minutes, Seed: o.Seed}
	if o.After != "" {
		if o.Add < 1 || o.Stops != 0 || o.Precision != 0 {
			return set, "", errors.New("--after wants --add and no other number of stops")
		}
		set.Stops = o.Add
	} else if o.Add != 0 {
		return set, "", errors.New("--add is for --after: give --stops")
	} else if o.Precision != 0 {
		if set.Stops, why, err = o.byPrecision(); err != nil {
			return set, "", err
		}
	} else if o.Stops == 0 {
		return set, "", errors.New("how many stops? give --stops, or --precision with --taylor and --expect")
	}
	if o.Heading != "" {
		v, err := strconv.ParseFloat(o.Heading, 64)
		if err != nil {
			return set, "", fmt.Errorf("--heading %s: want degrees from north", o.Heading)
		}
		set.Heading = &v
	}
	if o.Start != "" {
		at, err := position(o.Start)
		if err != nil {
			return set, "", fmt.Errorf("--start %s: %w", o.Start, err)
		}
		set.StartAt(at)
	}
	if o.Leaves < 1 {
		return set, "", fmt.Errorf("--leaves %d: want 1 or more", o.Leaves)
	}
	return set, why, set.Validate()
}

func (o planOptions) byPrecision() (stops int, why string, err error) {
	switch {
	case o.Stops != 0:
		return 0, "", errors.New("--stops and --precision both say how many: give one")
	case len(o.Taylor) != 2:
		return 0, "", errors.New("--precision wants Taylor's two numbers too: --taylor a,b of the means of stops")
	case !(o.Expect > 0):
		return 0, "", errors.New("--precision wants the mean expected too: --expect")
	}
	green := sampling.Green{Taylor: sampling.Taylor{A: o.Taylor[0], B: o.Taylor[1]}, D: o.Precision}
	if err := green.Validate(); err != nil {
		return 0, "", err
	}
	n := green.Units(o.Expect, o.Precision)
	if n > 1e6 {
		return 0, "", fmt.Errorf("a standard error of %v of the mean would take %.0f stops; ask for less", o.Precision, n)
	}
	stops = max(int(math.Ceil(n)), 4)
	return stops, fmt.Sprintf("%d stops for a standard error of %v of a mean of %v, where variance = %v·mean^%v (n = %.1f, never under 4)",
		stops, o.Precision, o.Expect, o.Taylor[0], o.Taylor[1], n), nil
}

func position(text string) (lonlat [2]float64, err error) {
	parts := strings.FieldsFunc(text, func(r rune) bool { return r == ',' || r == ' ' })
	if len(parts) != 2 {
		return lonlat, errors.New("want longitude,latitude in degrees")
	}
	for i, limit := range []float64{180, 90} {
		v, err := strconv.ParseFloat(parts[i], 64)
		if err != nil || !(math.Abs(v) <= limit) {
			return lonlat, errors.New("want longitude,latitude in degrees")
		}
		lonlat[i] = v
	}
	return lonlat, nil
}

// planRun is one call of plan.
type planRun struct {
	options planOptions
	set     plan.Settings
	why     string
}

func runPlan(s Streams, r planRun) error {
	if err := settled(s, r.options.After); err != nil {
		return err
	}
	field, notes, err := r.field()
	if err != nil {
		return err
	}
	keep, err := r.options.keepOffs.read()
	if err != nil {
		return err
	}
	closed, keepNotes, err := handoff.Closed(field, keep)
	if err != nil {
		return err
	}
	r.set.KeepOff, notes = closed, append(notes, keepNotes...)
	made, err := r.plan(field)
	if err != nil {
		return err
	}
	p := fieldwork.Plan{Plan: made, Leaves: r.options.Leaves, Pest: r.options.Pest, Why: r.why}
	if err := writePages(s, pageFolder{r.options.Out, r.inputs(), r.options.Force}, planPages(p)); err != nil {
		return err
	}
	for _, n := range notes {
		fmt.Fprintf(s.Err, "  %s\n", n)
	}
	fmt.Fprintf(s.Out, "%sFiles in %s:", p.Text(), r.options.Out)
	for _, page := range planPages(p) {
		fmt.Fprintf(s.Out, " %s", page.name)
	}
	_, err = fmt.Fprintln(s.Out)
	return err
}

func (r planRun) inputs() []string {
	in := []string{r.options.Field}
	for _, f := range r.options.keepOffs.files {
		in = append(in, f.path)
	}
	if r.options.After != "" {
		in = append(in, filepath.Join(r.options.After, "stops.geojson"))
	}
	return in
}

func (r planRun) plan(field geo.Field) (plan.Plan, error) {
	if r.options.After == "" {
		return plan.Make(field, r.set)
	}
	k, err := known(r.options.After, field)
	if err != nil {
		return plan.Plan{}, err
	}
	return plan.After(field, r.set, k)
}

func planPages(p fieldwork.Plan) []page {
	return []page{
		{"stops.gpx", func(w io.Writer) error { return geofile.WriteGPX(w, p.Route()) }},
		{"stops.kml", func(w io.Writer) error { return geofile.WriteKML(w, p.Document()) }},
		{"stops.geojson", func(w io.Writer) error {
			return geofile.WriteGeoJSON(w, geofile.FeatureCollection{Features: p.Features()})
		}},
		{"stops.csv", p.WriteTable},
		{"sheet.html", p.WriteSheet},
	}
}

// field is the one field of the boundary, or the one asked for.
func (r planRun) field() (geo.Field, []string, error) {
	from, err := load(r.options.Field)
	if err != nil {
		return geo.Field{}, nil, err
	}
	ground, err := engine.Outlines(from, r.options.NameProperty, r.options.Inner)
	if err != nil {
		return geo.Field{}, nil, err
	}
	fields, notes := ground.Fields, append(ground.Notes, ground.Warnings...)
	var names []string
	for _, f := range fields {
		if strings.EqualFold(f.Name, r.options.Only) || r.options.Only == "" && len(fields) == 1 {
			return f, notes, nil
		}
		names = append(names, f.Name)
	}
	return geo.Field{}, nil, hintedError{fmt.Errorf("%s holds %d fields: %s", filepath.Base(r.options.Field), len(fields), strings.Join(names, ", ")), "choose one with --only NAME"}
}
