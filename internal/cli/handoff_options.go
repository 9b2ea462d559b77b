package cli

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"

	"github.com/spf13/pflag"

	"github.com/geocoris/geocoris/internal/engine"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/output/report"
	"github.com/geocoris/geocoris/internal/spraying/handoff"
	"github.com/geocoris/geocoris/internal/spraying/spray"
)

// phoneError is how far a phone's fix may be off in the open, 95 %: 4.9 m
// (GPS.gov, after van Diggelen & Enge 2015).
const phoneError = "4.9m"

// handoffOptions are the settings of the handoff command.
type handoffOptions struct {
	From, Out string

	swath, speed, lag, minLength, bridge, turn, overrun quantityFlag
	Sections                                            int
	heading                                             *float64

	stopError, sprayerError, growth, margin quantityFlag
	SprayOn                                 string
	GoodFor                                 int
	goodGiven                               bool
	AgainstVerdict, WholeField              bool
	keepOffs                                keepOffs

	rate, tank quantityFlag
	products   products

	IsoVersion int
	Guidance   bool
	grid       quantityFlag

	Units figures.Units
	Force bool
	JSON  bool
	Quiet bool

	given *pflag.FlagSet
}

func newHandoffOptions() *handoffOptions {
	length := quantityFlag{parse: spray.ParseLength, kind: "length"}
	time := quantityFlag{parse: spray.ParseTime, kind: "time"}
	return &handoffOptions{
		swath: length, minLength: length, bridge: length, overrun: length,
		stopError: length, sprayerError: length, growth: length, margin: length, grid: length,
		speed: quantityFlag{parse: spray.ParseSpeed, kind: "speed"}, lag: time, turn: time,
		rate: quantityFlag{parse: spray.ParseRate, kind: "rate"}, tank: quantityFlag{parse: spray.ParseVolume, kind: "volume"},
	}
}

func (o *handoffOptions) flags(f *pflag.FlagSet) {
	o.given = f
	f.Var(&o.swath, "swath", "`width` that one pass covers (required)")
	f.StringVar(&o.Out, "out", "", "`FOLDER` for the files, written whole or not at all (required)")
	f.IntVar(&o.Sections, "sections", 1, "sections of the boom that switch on their own")
	f.Var(optional{&o.heading}, "heading", "`degrees` of the passes, clockwise from north (the heading with the fewest passes)")
	f.Var(&o.speed, "speed", "driving `speed`; without it no time, and lag moves nothing")
	f.Var(&o.lag, "lag", "`time` from the switch to the spray, valve and look-ahead together")
	f.Var(&o.minLength, "min-length", "shortest run of the boom (speed × lag)")
	f.Var(&o.bridge, "bridge", "stay on over gaps up to this `length` where no keep-off lies in them")
	f.Var(&o.turn, "turn", "`time` for a turn")
	f.Var(&o.overrun, "overrun", "how far the boom may spray past the field's edge; 0m for never (as far as a section over spray ground reaches)")

	_ = o.stopError.Set(phoneError)
	f.Var(&o.stopError, "stop-error", "position error of the stops, 95 %")
	f.Var(&o.sprayerError, "sprayer-error", "position error of the sprayer, 95 %")
	f.Var(&o.growth, "growth", "`length` a day by which patches spread until the spraying")
	f.Var(day{&o.SprayOn}, "spray-on", "`day` of the spraying, such as 2026-07-17 or \"17 July 2026\" (the day of the count)")
	f.Var(&o.margin, "margin", "further margin")
	f.IntVar(&o.GoodFor, "good-for", 0, "`days` after the count for which the map is good (until the day that the map says itself)")
	f.BoolVar(&o.AgainstVerdict, "against-verdict", false, "make the job where the map says not to spray now; the sheet says so first")
	f.BoolVar(&o.WholeField, "whole-field", false, "spray whole fields in place of their treat zones")
	f.Var(&o.keepOffs, "keep-off", "`FILE=SETBACK` of what is never sprayed, such as hives.geojson=50m; may be given several times")

	f.Var(&o.rate, "rate", "carrier `rate` off the label, L/ha or gal/ac")
	f.Var(&o.tank, "tank", "`volume` of the tank")
	f.Var(&o.products, "product", "`NAME=AMOUNT` off the label, such as \"product A=3lb/ac\"; may be given several times")

	f.IntVar(&o.IsoVersion, "iso-version", 4, "of the ISO 11783-10 task data, 4 or 3")
	f.BoolVar(&o.Guidance, "guidance", false, "put the A–B line of each field into the task data, for terminals that take it (version 4)")
	f.Var(&o.grid, "grid", "task data as a grid with cells of this `length` (polygons)")
	f.Var(&o.Units, "units", "`us` or metric (both)")
	f.BoolVar(&o.Force, "force", false, "write into a folder that holds other files too")
	f.BoolVar(&o.JSON, "json", false, "print the figures as JSON")
	f.BoolVar(&o.Quiet, "quiet", false, "print nothing but errors")
}

// readMade reads from run.json by how much a map grew the treat zone of each field.
// run.json is written last: zones without it are half of a map.
func readMade(path string) (map[string]handoff.Grown, error) {
	text, err := os.ReadFile(path)
	if os.IsNotExist(err) {
		return nil, hintedError{fmt.Errorf("%s is missing, so the folder holds half of a map", path), "run map again, or give the file of zones itself"}
	}
	if err != nil {
		return nil, err
	}
	var run struct {
		Settings struct {
			SprayIn float64 `json:"spray-in"`
		} `json:"settings"`
		Fields []struct {
			Field  string   `json:"field"`
			Margin float64  `json:"margin_m"`
			Days   *float64 `json:"grown_days"` // records of before have the setting alone
		} `json:"fields"`
	}
	if err := json.Unmarshal(text, &run); err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	made := map[string]handoff.Grown{}
	for _, f := range run.Fields {
		g := handoff.Grown{Margin: f.Margin, Days: run.Settings.SprayIn}
		if f.Days != nil {
			g.Days = *f.Days
		}
		made[f.Field] = g
	}
	return made, nil
}

// settings are the options as the work takes them, and the files they name.
func (o *handoffOptions) settings(made map[string]handoff.Grown) (handoff.Settings, []string, error) {
	if o.IsoVersion != 3 && o.IsoVersion != 4 {
		return handoff.Settings{}, nil, fmt.Errorf("--iso-version %d: want 4 or 3", o.IsoVersion)
	}
	if o.goodGiven && o.GoodFor < 1 {
		return handoff.Settings{}, nil, fmt.Errorf("--good-for %d: want 1 day or more", o.GoodFor)
	}
	if o.Guidance && o.IsoVersion == 3 {
		return handoff.Settings{}, nil, errors.New("--guidance: version 3 of the task data has no A–B line; leave out --iso-version 3")
	}
	set := handoff.Settings{
		Margin: spray.Margin{StopError: o.stopError.base(), SprayerError: o.sprayerError.base(), Growth: o.growth.base(), Extra: o.margin.base()},
		Spray: spray.Settings{
			Swath: o.swath.base(), Sections: o.Sections, Heading: o.heading, Speed: o.speed.base(), Lag: o.lag.base(),
			MinLength: o.minLength.base(), Bridge: o.bridge.base(), TurnTime: o.turn.base(),
		},
		SprayOn: o.SprayOn, GoodFor: o.GoodFor, Grown: made, AgainstVerdict: o.AgainstVerdict, WholeField: o.WholeField, Cell: o.gridCell(),
	}
	if o.overrun.value != nil {
		set.Spray.Overrun = &o.overrun.value.Base
	}
	return set, o.keepOffs.paths(), set.Spray.Validate()
}

// writeRun writes how the files came to be: no clock, so repeating gives the same.
func (o *handoffOptions) writeRun(w io.Writer, inputs []string) error {
	run := struct {
		Program  string            `json:"program"`
		Version  string            `json:"version"`
		Command  string            `json:"command"`
		Inputs   []engine.Input    `json:"inputs"`
		Settings map[string]string `json:"settings"`
	}{Program: "geocoris", Version: version(), Command: "handoff", Settings: map[string]string{}}
	o.given.VisitAll(func(f *pflag.Flag) {
		if f.Name != "help" {
			run.Settings[f.Name] = f.Value.String()
		}
	})
	for _, path := range inputs {
		from, err := load(path)
		if err != nil {
			return err
		}
		run.Inputs = append(run.Inputs, engine.InputOf(from))
	}
	return report.WriteJSON(w, run)
}

// products are what was typed off the label.
type products []spray.Product

func (p *products) Set(text string) error {
	v, err := spray.ParseProduct(text)
	if err == nil {
		*p = append(*p, v)
	}
	return err
}

func (p *products) String() string {
	var parts []string
	for _, one := range *p {
		parts = append(parts, fmt.Sprintf("%s=%g%s/%s", one.Name, one.Amount, one.Unit, one.Per))
	}
	return strings.Join(parts, " ")
}

func (p *products) Type() string { return "NAME=AMOUNT" }
