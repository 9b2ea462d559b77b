package cli

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"github.com/geocoris/geocoris/internal/engine"
	"github.com/geocoris/geocoris/internal/engine/disk"
	"github.com/geocoris/geocoris/internal/output/jobsheet"
)

func newHandoff(s Streams) *cobra.Command {
	var o handoffOptions
	var settings string
	cmd := &cobra.Command{
		Use:   "handoff MAPDIR|ZONES --swath WIDTH --out FOLDER",
		Short: "Hand the ground to spray to the applicator: spray ground, passes, machine files, job sheet",
		Long: `handoff takes the zones of a map, its folder or zones.geojson, and writes one folder
for the applicator. It holds the ground to spray and passes with the places where the
boom goes on and off. It also holds files for machines and receivers, and a job sheet
to print.

Red ground, the zones to treat, is grown by a margin within the field. Its parts are
shown: position errors of the stops and the sprayer, growth until the spraying. Days
whose growth the map has grown its zones by already (--spray-in) are not added again.
Keep-offs with their set-backs are cut out last. No section that is on ever reaches into
one. Nor does it reach into a hole of the field, a gap between its parts or another
field of the map. Passes end there. What no section can do is listed with its area.
Spraying is on or off; there is no reduced dose.

Passes go along the rows (--rows, or what the boundary says of the field), else along the
longest edge. --fewest-passes may lead across the rows, and the sheet says so. The flight
file is for what flies: passes in their order, and turns round the keep-offs.

Places of on and off are where the switch is to be thrown: earlier by speed × lag. With
--grid all areas are of the cells, and the passes cover them. A cell is on where half of
it or more is spray ground, none of it is closed and all of it is field. The sections
must be able to spray all of it, too.

The job follows the map: its red ground, or the whole field where it says that, unless
--red-only asks for the red ground alone. Where it says not to spray now no job is
made, but with --against-verdict. Where it is not decided, --fallback makes the job
that it names for when the stops asked for cannot be walked today.

The zones are compared with the record of their map. Where a person edited them, in a
program for maps, --trust-edited takes them.
They are cut at the field, areas are worked out anew, and every sheet says that they
were edited by hand.

Numbers carry their unit: 24m, 80ft, 12km/h, 8mph, 140L/ha, 15gal/ac, 2000L, 600gal.
No product, rate, interval or speed is preset: sums are made only of what you type
in off the label in hand. Without --rate there is no task data.`,
		Example: `  geocoris handoff out --swath 24m --out job

  # the boom in 12 sections, hives and a creek kept off, sums for a tank
  geocoris handoff out --swath 80ft --sections 12 --keep-off hives.geojson=50m \
    --keep-off creek.kml=100ft --rate 15gal/ac --tank 600gal \
    --product "product A=3lb/ac" --speed 8mph --lag 1.5s --gate -101.6053,35.8925 --out job

  # for a drone, along the rows, at a height off the label
  geocoris handoff out --swath 5m --rows 12° --height 3m --drift 60m \
    --keep-off hives.geojson=60m --out job

  # passes at a heading, spraying in two days, edges grow by half a metre a day
  geocoris handoff out/zones.geojson --swath 36m --heading 12.5 --spray-on 2026-07-17 \
    --growth 0.5m --rate 140L/ha --iso-version 3 --grid 3m --out job`,
		Args: takes(1, 1),
	}
	o.flags(cmd.Flags())
	cmd.Flags().StringVar(&settings, "settings", "", "TOML `FILE` with settings called as the flags are, such as swath = \"24m\"; flags go before it, and keep-offs of both hold")
	cmd.Flags().SortFlags = false
	grouped(cmd, ofHandoff())
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		if err := o.take(settings, cmd.Flags()); err != nil {
			return err
		}
		switch {
		case o.Out == "" || o.Swath.Typed == nil:
			return usageError{errors.New("--swath and --out are needed")}
		case cmd.Flags().Changed("good-for") && o.GoodFor == 0:
			return usageError{errors.New("--good-for 0: want 1 day or more")}
		}
		o.From = args[0]
		return runHandoff(s, o)
	}
	return cmd
}

// take takes in a file of settings; flags that were given go before it.
func (o *handoffOptions) take(path string, given *pflag.FlagSet) error {
	o.config = path
	if path == "" {
		return nil
	}
	from, err := disk.Load(path)
	if err != nil {
		return err
	}
	asked := o.HandoffSettings
	o.HandoffSettings = engine.HandoffDefaults()
	if err := o.HandoffSettings.Take(from); err != nil {
		return err
	}
	o.Adopt(asked, given.Changed)
	return nil
}

func runHandoff(s Streams, o handoffOptions) error {
	if err := settled(s, o.From); err != nil {
		return err
	}
	q := engine.HandoffRequest{Settings: o.HandoffSettings, Version: version(), Asked: o.asked()}
	if err := loadZones(&q, o.From); err != nil {
		return err
	}
	if err := q.Settings.Validate(); err != nil {
		return err
	}
	inputs := append([]string{q.Zones.Name}, o.KeepOff.Paths()...)
	if rows := o.Rows.Path(); rows != "" {
		inputs = append(inputs, rows)
		from, err := disk.Load(rows)
		if err != nil {
			return hintedError{fmt.Errorf("--rows: %w", err), "give degrees clockwise from north, such as 12°, or a file with a line along a row"}
		}
		q.Rows = &from
	}
	if o.config != "" {
		inputs = append(inputs, o.config)
	}
	if q.Closed != nil {
		inputs = append(inputs, q.Closed.Name)
	}
	if err := checkFolder(o.Out, inputs, engine.HandoffFiles[:], o.Force); err != nil {
		return err
	}
	for _, path := range o.KeepOff.Paths() {
		from, err := disk.Load(path)
		if err != nil {
			return err
		}
		q.KeepOffs = append(q.KeepOffs, from)
	}
	near := o.sprayedNear()
	q.Sprayed = sprayRecords(near)
	made, err := engine.Handoff(q)
	if err != nil {
		return err
	}
	if err := writeFolder(s, o.Out, outFiles(made.Files), engine.HandoffFiles[:]); err != nil {
		return err
	}
	if !o.Quiet {
		s.notes(o.sprayedBefore(near, made), o.Language)
	}
	return o.print(s, made)
}

// sprayedNear are the sprays recorded beside the zones, or beside maps in folders next to
// theirs; one whose record cannot be read has its ground alone.
func (o handoffOptions) sprayedNear() []sprayed {
	all := groundsIn(o.folder())
	for _, s := range sprayedNear(o.folder()) {
		if s.ground == "" || !slices.ContainsFunc(all, func(k sprayed) bool { return sameFile(k.ground, s.ground) }) {
			all = append(all, s)
		}
	}
	return all
}

// sprayRecords are sprays as the sheet tells of them.
func sprayRecords(all []sprayed) []engine.SprayRecord {
	records := make([]engine.SprayRecord, len(all))
	for i, s := range all {
		records[i] = engine.SprayRecord{Date: s.Date, Field: s.Field}
		if s.ground == "" {
			continue
		}
		if from, err := disk.Load(s.ground); err == nil {
			records[i].Ground = &from
		}
	}
	return records
}

// sprayedBefore are notes on sprays near that are not kept off: the job would spray that ground
// once more.
func (o handoffOptions) sprayedBefore(near []sprayed, made *engine.HandoffOutcome) (notes []string) {
	const leaveOut = ": to leave it out give --keep-off %s"
	counted := map[string]string{}
	for _, j := range made.Sheet.Result.Jobs {
		counted[j.Field] = j.Days.Counted
	}
	u := made.Sheet.Units
	var others []sprayed
	for _, s := range near {
		switch own := s.ground != "" && sameFile(filepath.Dir(s.ground), o.folder()); {
		case o.keepsOff(s.ground):
		case own:
			notes = append(notes, o.Language.Say(engine.SprayedAlready, s.ground)+o.Language.Say(leaveOut, typed(s.ground+"=0m")))
		default:
			others = append(others, s)
		}
	}
	for _, s := range sprayedOf(others, counted) {
		notes = append(notes, s.note(u, u.Say(leaveOut, typed(s.ground+"=0m"))))
	}
	return notes
}

// keepsOff reports whether a file is among the keep-offs.
func (o handoffOptions) keepsOff(path string) bool {
	return slices.ContainsFunc(o.KeepOff.Paths(), func(kept string) bool { return path != "" && filepath.Clean(kept) == path })
}

// folder is that of the map.
func (o handoffOptions) folder() string {
	if info, err := os.Stat(o.From); err != nil || !info.IsDir() {
		return filepath.Dir(o.From)
	}
	return o.From
}

func (o handoffOptions) print(s Streams, made *engine.HandoffOutcome) error {
	switch {
	case o.Quiet:
		return nil
	case o.JSON:
		return made.Sheet.WriteJSON(s.Out)
	case o.Details:
		if err := made.Sheet.WriteScreen(s.Out, o.Out, fileNames(made.Files)); err != nil {
			return err
		}
		return s.show(o.next(made))
	}
	sheet := made.Sheet
	sheet.Files = fileNames(made.Files)
	return s.show(append(jobsheet.Brief{Sheet: sheet, Width: s.columns(), Folder: o.Out}.Lines(), o.next(made)...))
}

// loadZones loads a file of zones or those of the folder of a map, with what belongs to
// them beside.
func loadZones(q *engine.HandoffRequest, from string) error {
	info, err := os.Stat(from)
	if err == nil {
		err = notTheMap(from)
	}
	if err != nil {
		return err
	}
	folder, path := filepath.Dir(from), from
	if info.IsDir() {
		folder, path = from, filepath.Join(from, "zones.geojson")
	}
	if q.Zones, err = disk.Load(path); os.IsNotExist(err) {
		return hintedError{err, "give the folder that geocoris map wrote, or a file of zones"}
	}
	if err != nil {
		return err
	}
	return loadBeside(q, folder, info.IsDir())
}

// loadBeside loads what lies beside zones; a map that was given by its folder has to be
// whole.
func loadBeside(q *engine.HandoffRequest, folder string, whole bool) error {
	name := filepath.Join(folder, "run.json")
	run, err := loadThere(name)
	switch {
	case err != nil:
		return err
	case !whole:
		q.Recorded = run != nil
	case run == nil: // it is written last
		return hintedError{fmt.Errorf("%s is missing, so the folder holds half of a map", name), "run map again, or give the file of zones itself"}
	default:
		q.Run = run
	}
	if run != nil {
		if q.Map, err = mapFolder(folder); err != nil {
			return err
		}
		if q.Stops, err = loadThere(filepath.Join(folder, "stops.geojson")); err != nil {
			return err
		}
	}
	q.Closed, err = loadThere(filepath.Join(folder, engine.ClosedFile))
	return err
}
