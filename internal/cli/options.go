package cli

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/pelletier/go-toml/v2"
	"github.com/spf13/pflag"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/assess"
	"github.com/geocoris/geocoris/internal/report"
	"github.com/geocoris/geocoris/internal/survey"
	"github.com/geocoris/geocoris/interp"
)

// mapOptions are the settings of the map command: flags, and by the same names
// keys of a settings file.
type mapOptions struct {
	Field        string    `toml:"field" json:"field"`
	Out          string    `toml:"out" json:"out"`
	NameProperty string    `toml:"name-property" json:"name-property"`
	Inner        innerKind `toml:"inner" json:"inner,omitempty"`

	TreatAt   float64 `toml:"treat-at" json:"treat-at"`
	WatchAt   float64 `toml:"watch-at" json:"watch-at"`
	NextVisit float64 `toml:"next-visit" json:"next-visit"`
	Doubling  float64 `toml:"doubling" json:"doubling"`
	Tally     float64 `toml:"tally" json:"tally"`
	Unit      string  `toml:"unit" json:"unit"`

	ruleOptions

	Pest         string `toml:"pest" json:"pest"`
	UnnamedStops bool   `toml:"unnamed-stops" json:"unnamed-stops"`
	Observers    string `toml:"observers" json:"observers,omitempty"` // file of calibrate

	Columns   []string  `toml:"columns" json:"columns"`
	Map       []string  `toml:"map" json:"map"`
	UTM       string    `toml:"utm" json:"utm"`
	UTCOffset utcOffset `toml:"utc-offset" json:"utc-offset,omitempty"`
	Mend      []string  `toml:"mend" json:"mend"`
	Schema    string    `toml:"schema" json:"schema"`

	chanceOptions

	Power     float64   `toml:"power" json:"power"`
	Neighbors neighbors `toml:"neighbors" json:"neighbors"`
	Plain     bool      `toml:"plain" json:"plain"`
	Radius    float64   `toml:"radius" json:"radius"`
	Tune      bool      `toml:"tune" json:"tune"`

	Cell     float64  `toml:"cell" json:"cell"`
	Margin   float64  `toml:"margin" json:"margin"`
	MinArea  *float64 `toml:"min-area" json:"min-area"`
	Simplify *float64 `toml:"simplify" json:"simplify"`

	writeOptions

	Units  units `toml:"units" json:"units"`
	Strict bool  `toml:"strict" json:"strict"`

	Force bool `toml:"-" json:"-"`
	JSON  bool `toml:"-" json:"-"`
	Quiet bool `toml:"-" json:"-"`
}

// flags binds the options to flags, and sets them to the defaults.
func (o *mapOptions) flags(f *pflag.FlagSet) {
	o.readingFlags(f)

	f.Float64Var(&o.TreatAt, "treat-at", 0, "treat at this value or above (40 per leaf for sorghum aphids)")
	f.Float64Var(&o.WatchAt, "watch-at", 0, "watch at this value or above (what grows to the treat level before the next visit)")
	f.Float64Var(&o.NextVisit, "next-visit", 0, "`days` to the next visit, for the watch level (7); --revisit is the same")
	f.Float64Var(&o.Doubling, "doubling", 0, "`days` in which the pest doubles, for the watch level (4.2 for sorghum aphids)")
	f.Float64Var(&o.Tally, "tally", 0, "map the % of units with this many or more, not the mean; levels are in % then")
	f.StringVar(&o.Unit, "unit", "leaf", "what was counted on: leaf, plant, stem, trap ...")

	o.chanceOptions.flags(f)

	o.ruleOptions.flags(f)

	f.Float64Var(&o.Power, "power", interp.DefaultPower, "power of the inverse distance")
	o.Neighbors.count = interp.DefaultNeighbors
	f.Var(&o.Neighbors, "neighbors", "stops that count at a place, or `all`")
	f.BoolVar(&o.Plain, "plain", false, "nearest stops without taper")
	f.Float64Var(&o.Radius, "radius", 0, "leave out stops farther than so many `metres`")
	f.BoolVar(&o.Tune, "tune", false, "choose power and neighbors by leave-one-out")

	f.Float64Var(&o.Cell, "cell", 0, "`metres` between nodes of the grid (from the field's area)")
	f.Float64Var(&o.Margin, "margin", 0, "grow treat ground by so many `metres`, never out of the field")
	f.Var(optional{&o.MinArea}, "min-area", "treat patches below so many `m2` without a stop over the level become watch (four cells)")
	f.Var(optional{&o.Simplify}, "simplify", "`metres` by which level lines may be off when simplified (a fiftieth of a cell)")

	o.writeOptions.flags(f)
	f.Var(&o.Units, "units", "`us` or metric on the screen (both)")
	f.BoolVar(&o.Strict, "strict", false, "exit with code 3 if rows were set aside")
	f.BoolVar(&o.Force, "force", false, "write into a folder that holds other files too")
	f.BoolVar(&o.JSON, "json", false, "print the summary as JSON")
	f.BoolVar(&o.Quiet, "quiet", false, "print nothing but errors")
}

// readingFlags bind what says where to read and write, and how to read.
func (o *mapOptions) readingFlags(f *pflag.FlagSet) {
	f.StringVar(&o.Field, "field", "", "boundary `FILE`: GeoJSON, KML, KMZ, GPX, Shapefile or GeoPackage")
	f.StringVar(&o.Out, "out", "", "`FOLDER` for the files, written whole or not at all")
	f.StringVar(&o.NameProperty, "name-property", "", "property of the boundary that names the fields")
	f.Var(&o.Inner, "inner", innerUsage)

	f.StringVar(&o.Pest, "pest", "", "which pest, where the samples hold several")
	f.BoolVar(&o.UnnamedStops, "unnamed-stops", false, "without a column for stops, take each position as a stop")
	f.StringVar(&o.Observers, "observers", "", "`FILE` of calibrate: correct the counts of each observer by it")

	f.StringSliceVar(&o.Columns, "columns", nil, "`names` of the columns of a CSV file without a header")
	f.StringArrayVar(&o.Map, "map", nil, "read a column under another name, such as `bugs=count`; may be given several times")
	f.StringVar(&o.Schema, "schema", "", "Frictionless Table Schema `FILE` that names the columns by their titles")
	f.StringVar(&o.UTM, "utm", "", "`zone` of eastings and northings, such as 14N")
	f.Var(&o.UTCOffset, "utc-offset", "`hours` of local clocks ahead of UTC, such as -5 or +5:30, for times in UTC (by the sun)")
	f.StringSliceVar(&o.Mend, "mend", nil, "mend positions that then lie in a field: `swap`, sign or minutes")
}

// settle returns the options with a settings file taken in; flags that were
// given go before it.
func settle(given *pflag.FlagSet, path string) (mapOptions, error) {
	var o mapOptions
	merged := pflag.NewFlagSet("map", pflag.ContinueOnError)
	o.flags(merged)
	if path != "" {
		if err := o.read(path); err != nil {
			return o, err
		}
	}
	var err error
	given.Visit(func(f *pflag.Flag) {
		if merged.Lookup(f.Name) != nil {
			err = errors.Join(err, copyFlag(merged.Lookup(f.Name).Value, f.Value))
		}
	})
	return o, err
}

// copyFlag gives a flag the value of another of its kind.
func copyFlag(to, from pflag.Value) error {
	if list, ok := from.(pflag.SliceValue); ok {
		return to.(pflag.SliceValue).Replace(list.GetSlice())
	}
	return to.Set(from.String())
}

// read takes in a settings file. A key that is none of the flags is an error
// that names its line. Paths in it go from the file's own folder.
func (o *mapOptions) read(path string) error {
	text, err := os.ReadFile(path)
	if err != nil {
		return err
	}
	d := toml.NewDecoder(bytes.NewReader(text)).DisallowUnknownFields()
	if err := d.Decode(o); err != nil {
		return settingsError(filepath.Base(path), err)
	}
	for _, p := range []*string{&o.Field, &o.Out, &o.Schema, &o.Rules, &o.Observers} {
		if *p != "" && !filepath.IsAbs(*p) {
			*p = filepath.Join(filepath.Dir(path), *p)
		}
	}
	return nil
}

func settingsError(name string, err error) error {
	var unknown *toml.StrictMissingError
	if errors.As(err, &unknown) && len(unknown.Errors) > 0 {
		line, column := unknown.Errors[0].Position()
		return hintedError{fmt.Errorf("%s:%d:%d: no setting is called %q", name, line, column, joined(unknown.Errors[0].Key())),
			"settings are called as the flags are, without the dashes in front"}
	}
	var wrong *toml.DecodeError
	if errors.As(err, &wrong) {
		line, column := wrong.Position()
		return fmt.Errorf("%s:%d:%d: %s", name, line, column, wrong.Error())
	}
	return fmt.Errorf("%s: %w", name, err)
}

func joined(key toml.Key) (out string) {
	for i, part := range key {
		if i > 0 {
			out += "."
		}
		out += part
	}
	return out
}

// assess are the options as the work takes them.
func (o mapOptions) assess() assess.Settings {
	s := assess.Settings{
		Levels:    assess.LevelSettings{TreatAt: o.TreatAt, WatchAt: o.WatchAt, NextVisit: o.NextVisit, Doubling: o.Doubling},
		Statistic: assess.Statistic{Unit: o.Unit, Tally: o.Tally, Part: o.Part},
		IDW:       interp.IDW{Power: o.Power, Neighbors: o.Neighbors.count, Plain: o.Plain, Radius: o.Radius},
		Chance:    o.chanceOptions.assess(),
		Tune:      o.Tune, Cell: o.Cell, Margin: o.Margin,
		MinArea: o.MinArea, Simplify: o.Simplify,
	}
	return s
}

// survey are the options of reading samples.
func (o mapOptions) survey(fields []geo.Field, stdin []byte) (survey.Options, error) {
	locator, err := assess.NewLocator(fields)
	if err != nil {
		return survey.Options{}, err
	}
	relocate, err := locator.Offers(o.Mend)
	if err != nil {
		return survey.Options{}, usageError{err}
	}
	opts := survey.Options{
		Pest: o.Pest, Unit: o.Unit, UnnamedStops: o.UnnamedStops, Columns: o.Columns, UTM: o.UTM, UTCOffset: string(o.UTCOffset),
		Rename: map[string]string{}, Stdin: bytes.NewReader(stdin), Relocate: relocate,
	}
	if o.Schema != "" {
		from, err := geofile.Load(o.Schema, settingsLimit)
		if err != nil {
			return opts, err
		}
		schema, err := survey.DecodeSchema(from)
		if err != nil {
			return opts, err
		}
		opts.Rename, opts.Missing = schema.Rename, schema.Missing
	}
	for _, pair := range o.Map {
		from, to, found := strings.Cut(pair, "=")
		if !found || from == "" || to == "" {
			return opts, usageError{fmt.Errorf("--map %q: want a column of the file, =, and the name to read it under", pair)}
		}
		opts.Rename[from] = to
	}
	if o.UTM != "" {
		if _, err := survey.ParseUTM(o.UTM); err != nil {
			return opts, usageError{err}
		}
	}
	return opts, nil
}

// neighbors is a number of stops, or all of them.
type neighbors struct{ count int }

func (n *neighbors) Set(text string) error {
	if text == "all" {
		n.count = interp.AllNeighbors
		return nil
	}
	v, err := strconv.Atoi(text)
	if err != nil || v < 1 {
		return errors.New("want a number of 1 or more, or all")
	}
	n.count = v
	return nil
}

func (n *neighbors) String() string {
	if n.count == interp.AllNeighbors {
		return "all"
	}
	return strconv.Itoa(n.count)
}

func (n *neighbors) Type() string { return "number" }

// UnmarshalText takes a number or a text of a settings file.
func (n *neighbors) UnmarshalText(text []byte) error { return n.Set(string(text)) }

// MarshalText writes what [neighbors.Set] reads.
func (n neighbors) MarshalText() ([]byte, error) { return []byte(n.String()), nil }

// optional is a flag for a number that may be left to the field.
type optional struct{ value **float64 }

func (o optional) Set(text string) error {
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		return errors.New("want a number of 0 or more")
	}
	*o.value = &v
	return nil
}

func (o optional) String() string {
	if o.value == nil || *o.value == nil {
		return ""
	}
	return strconv.FormatFloat(**o.value, 'g', -1, 64)
}

func (o optional) Type() string { return "number" }

// units is a choice of [report.Units].
type units struct{ choice report.Units }

func (u *units) Set(text string) error {
	switch choice := report.Units(text); choice {
	case report.Metric, report.US:
		u.choice = choice
		return nil
	}
	return errors.New("want us or metric")
}

func (u *units) String() string { return string(u.choice) }
func (u *units) Type() string   { return "us|metric" }

// UnmarshalText takes a text of a settings file.
func (u *units) UnmarshalText(text []byte) error { return u.Set(string(text)) }

// MarshalText writes what [units.Set] reads; nothing for both.
func (u units) MarshalText() ([]byte, error) { return []byte(u.choice), nil }
