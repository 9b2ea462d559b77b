package cli

import (
	"strconv"

	"github.com/spf13/pflag"

	"github.com/geocoris/geocoris/internal/engine"
)

// handoffOptions are the settings of handoff, and what belongs to the command line alone.
type handoffOptions struct {
	engine.HandoffSettings
	From, Out          string
	config             string // path of the file of settings; "" for none
	Force, JSON, Quiet bool
	Details            bool
}

func (o *handoffOptions) flags(f *pflag.FlagSet) {
	o.HandoffSettings = engine.HandoffDefaults()
	f.Var(&o.Swath, "swath", "`width` that one pass covers (required)")
	f.StringVar(&o.Out, "out", "", "`FOLDER` for the files, written whole or not at all (required)")
	f.StringArrayVar(&o.Only, "only", nil, onlyUsage)
	f.IntVar(&o.Sections, "sections", o.Sections, "sections of the boom that switch on their own")
	f.Var(optional{&o.Heading}, "heading", "`degrees` of the passes, clockwise from north (along the rows)")
	f.Var(&o.Rows, "rows", "how the rows run: `DEGREES|FILE`, such as 12° clockwise from north, or a file with a line along a row, or stops.geojson of plan (the property rows of the field, or else its longest edge)")
	f.BoolVar(&o.Fewest, "fewest-passes", false, "the heading with the fewest passes, across the rows too")
	f.Var(&o.Speed, "speed", "driving `speed`; without it no time, and lag moves nothing")
	f.Var(&o.Lag, "lag", "`time` from the switch to the spray, valve and look-ahead together")
	f.Var(&o.MinLength, "min-length", "shortest run of the boom (speed × lag)")
	f.Var(&o.Bridge, "bridge", "stay on over gaps up to this `length` where no keep-off lies in them")
	f.Var(&o.Turn, "turn", "`time` for a turn")
	f.Var(&o.Overrun, "overrun", "how far the boom may spray past the field's edge; 0m for never (as far as a section over spray ground reaches)")

	f.Var(&o.StopError, "stop-error", "position error of the stops, 95 %")
	f.Var(&o.SprayerError, "sprayer-error", "position error of the sprayer, 95 %")
	f.Var(&o.Growth, "growth", "`length` a day by which patches spread until the spraying")
	f.Var(day{&o.SprayOn}, "spray-on", "`day` of the spraying, such as 2026-07-17 or \"17 July 2026\" (the day of the count)")
	f.Var(&o.Margin, "margin", "further margin")
	f.IntVar(&o.GoodFor, "good-for", 0, "`days` after the count for which the map is good (until the day that the map says itself)")
	f.BoolVar(&o.AgainstVerdict, "against-verdict", false, "make the job where the map says not to spray now; the sheet says so first")
	f.BoolVar(&o.Fallback, "fallback", false, "the stops that the map asks for cannot be walked today: make the job that it names for that")
	f.BoolVar(&o.WholeField, "whole-field", false, "spray whole fields in place of their red ground, where the map says less too")
	f.BoolVar(&o.RedOnly, "red-only", false, "spray the red ground alone where the map says to spray the whole field")
	f.BoolVar(&o.TrustEdited, "trust-edited", false, "take zones that you edited after map wrote them; they are cut at the field, and every sheet says so")
	f.Var(&o.KeepOff, "keep-off", "`FILE=SETBACK` of what is never sprayed, such as hives.geojson=50m; may be given several times")
	f.Var(&o.Gate, "gate", "`LON,LAT` of a field's gate, for the sheet, such as -101.6053,35.8925; may be given several times (the middle of the field)")

	f.Var(&o.Height, "height", "flying `height` above the ground, for the flight file of an aircraft or a drone (none: it lies on the ground)")
	f.Var(&o.Drift, "drift", "`distance` that spray may drift, off the label or by rule, for the sheet")

	f.Var(&o.Rate, "rate", "carrier `rate` off the label, L/ha or gal/ac")
	f.Var(&o.Tank, "tank", "`volume` of the tank")
	f.Var(&o.Product, "product", "`NAME=AMOUNT` off the label, such as \"product A=3lb/ac\"; may be given several times")

	f.IntVar(&o.IsoVersion, "iso-version", o.IsoVersion, "of the ISO 11783-10 task data, 4 or 3")
	f.BoolVar(&o.Guidance, "guidance", false, "put the A–B line of each field into the task data, for terminals that take it (version 4)")
	f.Var(&o.Grid, "grid", "task data as a grid with cells of this `length` (polygons)")
	f.IntVar(&o.MaxPoints, "max-points", 0, "draw the outlines of each field, and its rates, with so many `points` at the most, for consoles that hold no more; closed ground only grows by it (as many as there are)")
	f.IntVar(&o.GridType, "grid-type", o.GridType, "of the grid: 1 for cells that name a zone, 2 for cells that hold a rate")
	f.StringVar(&o.Customer, "customer", "", "`name` of the customer, for the task data (what the fields' file says)")
	f.StringVar(&o.Farm, "farm", "", "`name` of the farm, for the task data (what the fields' file says)")
	f.Var(&o.Units, "units", "`us` or metric (both)")
	f.Var(&o.Language, "language", "`en` or es, for the short screen, the job sheet and names on maps; --details, errors and some notes are in English")
	f.BoolVar(&o.Force, "force", false, "write into a folder that holds other files too")
	f.BoolVar(&o.JSON, "json", false, "print the figures as JSON")
	f.BoolVar(&o.Details, "details", false, "print all figures, and how they were worked out")
	f.BoolVar(&o.Quiet, "quiet", false, "print nothing but errors")
}

// asked are the settings of the command line alone, as the record lists them.
func (o *handoffOptions) asked() map[string]string {
	return map[string]string{
		"out": o.Out, "force": strconv.FormatBool(o.Force), "json": strconv.FormatBool(o.JSON), "quiet": strconv.FormatBool(o.Quiet),
	}
}
