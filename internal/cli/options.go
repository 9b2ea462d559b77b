package cli

import (
	"cmp"
	"errors"
	"fmt"
	"strconv"

	"github.com/spf13/pflag"

	"github.com/geocoris/geocoris/internal/engine"
	"github.com/geocoris/geocoris/internal/engine/disk"
)

// mapOptions are the settings of map, and what belongs to the command line alone.
type mapOptions struct {
	engine.Settings
	Force, JSON, Quiet, Details bool
}

// flags binds the options to flags, and sets them to the defaults.
func (o *mapOptions) flags(f *pflag.FlagSet) {
	o.Settings = engine.Defaults()
	o.readingFlags(f)

	f.Float64Var(&o.TreatAt, "treat-at", 0, "treat at this value or above (40 per leaf for sorghum aphids)")
	f.Float64Var(&o.WatchAt, "watch-at", 0, "watch at this value or above (what grows to the treat level before the next visit)")
	f.Float64Var(&o.NextVisit, "next-visit", 0, "`days` to the next visit, for the watch level (7); --revisit is the same")
	f.Float64Var(&o.Doubling, "doubling", 0, "`days` in which the pest doubles, for the watch level (4.2 for sorghum aphids)")
	f.Float64Var(&o.Tally, "tally", 0, "map the % of units with this many or more, not the mean; levels are in % then")
	f.StringVar(&o.Unit, "unit", o.Unit, "what was counted on: leaf, plant, stem, trap ...")

	chanceFlags(f, &o.ChanceSettings)

	ruleFlags(f, &o.RuleSettings)

	f.Float64Var(&o.Power, "power", o.Power, "power of the inverse distance")
	f.Var(&o.Neighbors, "neighbors", "stops that count at a place, or `all`")
	f.BoolVar(&o.Plain, "plain", false, "nearest stops without taper")
	f.Float64Var(&o.Radius, "radius", 0, "leave out stops farther than so many `metres`")
	f.BoolVar(&o.Tune, "tune", false, "choose power and neighbors by leave-one-out")

	f.Float64Var(&o.Cell, "cell", 0, "`metres` between nodes of the grid (from the field's area)")
	f.Float64Var(&o.Margin, "margin", 0, "grow treat ground by so many `metres`, never out of the field")
	f.Var(optional{&o.MinArea}, "min-area", "treat patches below so many `m2` without a stop over the level become watch (four cells)")
	f.Var(optional{&o.Simplify}, "simplify", "`metres` by which level lines may be off when simplified (a fiftieth of a cell)")

	writeFlags(f, &o.WriteSettings)
	f.Var(&o.Units, "units", "`us` or metric on the screen (both)")
	f.Var(&o.Language, "language", "`en` or es, for the short screen, pages and pictures; --details, errors and some notes are in English")
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
	f.StringVar(&o.Fields, "fields", "", "`FILE` of what is known of each: field, grower, rule, stage, treat_at, watch_at, date; CSV, .xlsx or boundaries")
	f.StringArrayVar(&o.Only, "only", nil, onlyUsage)

	f.StringVar(&o.Pest, "pest", "", "which pest, where the samples hold several")
	f.BoolVar(&o.UnnamedStops, "unnamed-stops", false, "without a column for stops, take each position as a stop")
	f.BoolVar(&o.OneVisit, "one-visit", false, "stops of days three or more apart are one visit: a walk that was finished later")
	f.StringVar(&o.Observers, "observers", "", "`FILE` of calibrate: correct the counts of each observer by it")

	f.StringVar(&o.Corrections, "corrections", "", "`FILE` of cells to be read otherwise, the counts staying as they are: file, line, column, was, now, why")
	f.StringVar(&o.Places, "places", "", "`FILE` of where stops are, for counts that do not tell it: GPX, GeoJSON or a table; by name, or by time along a track")
	f.Float64Var(&o.TrackGap, "track-gap", 0, "`minutes` that points of a track may be apart for a place between them (5)")
	f.StringSliceVar(&o.Columns, "columns", nil, "`names` of the columns of a CSV file without a header")
	f.StringArrayVar(&o.Map, "map", nil, "read a column under another name, such as `bugs=count`; may be given several times")
	f.StringVar(&o.Schema, "schema", "", "Frictionless Table Schema `FILE` that names the columns by their titles")
	f.StringVar(&o.UTM, "utm", "", "`zone` of eastings and northings, such as 14N")
	f.Var(&o.UTCOffset, "utc-offset", "`hours` of local clocks ahead of UTC, such as -5 or +5:30, for times in UTC (by the sun)")
	f.Var(&dayOrder{value: &o.DateOrder}, "date-order", "`order` in dates such as 07/08/2026 where no date in the file tells: day-first, month-first, FILE=ORDER (guessed)")
	f.StringSliceVar(&o.Fix, "fix", nil, "correct positions that then lie in a field: `swap`, sign or minutes")
}

func chanceFlags(f *pflag.FlagSet, o *engine.ChanceSettings) {
	f.Var(&o.Surface, "surface", "zones by counts, idw, by the `chance` of reaching the treat level, or by loss: where spraying pays (idw)")
	f.Float64Var(&o.TreatChance, "treat-chance", 0, "with --surface chance, treat from this chance of the treat level on (0.3)")
	f.Float64Var(&o.WatchChance, "watch-chance", 0, "with --surface chance or loss, watch from this chance of the watch level on (0.3)")
	f.Float64Var(&o.Catch, "catch", 0, "treat the least ground expected to hold this `share` of what is over, such as 0.9")
}

func ruleFlags(f *pflag.FlagSet, o *engine.RuleSettings) {
	f.StringVar(&o.Rule, "rule", "", "threshold rule by its `name`; geocoris rules lists them")
	f.StringVar(&o.Stage, "stage", "", "growth `stage` for the rule: 0 to 9 of sorghum, or a word such as boot (that of the samples)")
	f.StringVar(&o.Rules, "rules", "", "TOML `FILE` with rules of your own")

	f.Float64Var(&o.Cost, "cost", 0, "cost of treating a hectare, for the verdict")
	f.Float64Var(&o.SpotJob, "spot-job", 0, "what a spot job costs more, whatever its size")
	f.Float64Var(&o.Price, "price", 0, "of the crop for each unit of yield, for the break-even test")
	f.Float64Var(&o.Loss, "loss", 0, "yield lost on a hectare for each pest per unit counted on")
	f.Float64Var(&o.Control, "control", 0, "part of the loss that treating averts (1)")
	f.Float64Var(&o.SpotControl, "spot-control", 0, "the same of a spot spray (that of --control)")
	f.Float64Var(&o.Heads, "heads", 0, "flowering heads on a hectare, for a rule that asks for them")
	f.Float64Var(&o.Stop, "stop-cost", 0, "what walking to one more stop and counting there costs: minutes times wage")
	f.Var(&o.Per, "per", "hectare or `acre`: what cost and loss are for")
	f.Float64Var(&o.SprayIn, "spray-in", 0, "`days` until the spray: treat ground is grown by what patches grow until then")
}

// alsoRevisit takes --revisit for --next-visit.
func alsoRevisit(_ *pflag.FlagSet, name string) pflag.NormalizedName {
	if name == "revisit" {
		name = "next-visit"
	}
	return pflag.NormalizedName(name)
}

func writeFlags(f *pflag.FlagSet, o *engine.WriteSettings) {
	f.StringSliceVar(&o.Write, "write", nil, "more files: `report`, overview, map.png, map.svg, map.pdf, surface.tif, surface.kmz, or all; zones.geojsons, zones.gpkg")
}

// settle returns the options with a settings file taken in, which comes back too; flags
// that were given go before it.
func settle(given *pflag.FlagSet, path string) (mapOptions, *engine.Source, error) {
	return settleOver(engine.Defaults(), given, path)
}

// settleOver is settle with other defaults, such as the settings that a season keeps.
func settleOver(base engine.Settings, given *pflag.FlagSet, path string) (o mapOptions, config *engine.Source, err error) {
	merged := pflag.NewFlagSet("settings", pflag.ContinueOnError)
	o.flags(merged)
	o.Settings = base
	if path != "" {
		from, err := disk.Load(path)
		if err != nil {
			return o, nil, err
		}
		if err := o.Take(from); err != nil {
			return o, nil, err
		}
		config = &from
	}
	given.Visit(func(f *pflag.Flag) {
		if merged.Lookup(f.Name) != nil {
			err = errors.Join(err, copyFlag(merged.Lookup(f.Name).Value, f.Value))
		}
	})
	return o, config, cmp.Or(err, noZeros(given, o.AboveZero()))
}

// noZeros refuses flags that were given as 0 and want more: left out they are 0 as well.
func noZeros(given *pflag.FlagSet, all []engine.AboveZero) error {
	for _, z := range all {
		if err := z.Refuse(); err != nil && given.Changed(z.Name) {
			return usageError{fmt.Errorf("--%w", err)}
		}
	}
	return nil
}

// copyFlag gives a flag the value of another of its kind.
func copyFlag(to, from pflag.Value) error {
	if list, ok := from.(pflag.SliceValue); ok {
		return to.(pflag.SliceValue).Replace(list.GetSlice())
	}
	return to.Set(from.String())
}

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

const onlyUsage = "this `FIELD` alone, by its name; may be given several times (all)"

const innerUsage = "an outline inside another is a `hole` (a pond, a yard) or a field; asked for where no name or stop says which"
