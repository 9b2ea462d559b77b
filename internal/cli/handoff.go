package cli

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/engine"
	"github.com/geocoris/geocoris/internal/output/jobsheet"
	"github.com/geocoris/geocoris/internal/spraying/handoff"
	"github.com/geocoris/geocoris/internal/spraying/spray"
)

func newHandoff(s Streams) *cobra.Command {
	o := newHandoffOptions()
	cmd := &cobra.Command{
		Use:   "handoff MAPDIR|ZONES --swath WIDTH --out FOLDER",
		Short: "Hand treat zones to the applicator: spray ground, passes, machine files, job sheet",
		Long: `handoff takes the zones of a map, its folder or zones.geojson, and writes one folder
for the applicator: the ground to spray, passes with the places where the boom goes
on and off, files for machines and receivers, and a job sheet to print.

Treat zones are grown by a margin (position errors of the stops and the sprayer,
growth until the spraying; each part is shown) within the field. Days whose growth
the map has grown its zones by already (--spray-in) are not added again. Keep-offs with
their set-backs are cut out last, and no section that is on ever reaches into one,
into a hole of the field, a gap between its parts or another field of the map; passes
end there. What no section can do is listed with its area. Spraying is on or off;
there is no reduced dose.

Places of on and off are where the switch is to be thrown: earlier by speed × lag. With
--grid all areas are of the cells: one is on where half of it or more is spray ground,
none of it is closed and all of it is field.

Where the map's verdict is neither to spot spray nor to treat the whole field no job
is made, but with --against-verdict; where it is the whole field, --whole-field does
that, and without it the sheet says that the job covers the treat zones only.

Numbers carry their unit: 24m, 80ft, 12km/h, 8mph, 140L/ha, 15gal/ac, 2000L, 600gal.
No product, rate, interval or speed is preset: sums are made only of what you type
in off the label in hand. Without --rate there is no task data.`,
		Example: `  geocoris handoff out --swath 24m --out job

  # the boom in 12 sections, hives and a creek kept off, sums for a tank
  geocoris handoff out --swath 80ft --sections 12 --keep-off hives.geojson=50m \
    --keep-off creek.kml=100ft --rate 15gal/ac --tank 600gal \
    --product "product A=3lb/ac" --speed 8mph --lag 1.5s --out job

  # passes along the rows, spraying in two days, edges grow by half a metre a day
  geocoris handoff out/zones.geojson --swath 36m --heading 12.5 --spray-on 2026-07-17 \
    --growth 0.5m --rate 140L/ha --iso-version 3 --grid 3m --out job`,
		Args: usageArgs(cobra.ExactArgs(1)),
	}
	o.flags(cmd.Flags())
	cmd.Flags().SortFlags = false
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		if o.Out == "" || o.swath.value == nil {
			return usageError{errors.New("--swath and --out are needed")}
		}
		o.From = args[0]
		o.goodGiven = cmd.Flags().Changed("good-for")
		return runHandoff(s, o)
	}
	return cmd
}

// handoffFiles are all names that the command may write.
var handoffFiles = [...]string{
	"ground.geojson", "swaths.geojson", "passes.geojson", "switches.geojson", "keep_off.geojson", "left_out.geojson",
	"ground.zip", "swaths.zip", "handoff.kml", "handoff.kmz", "handoff.gpkg", "passes.gpx", "TASKDATA.zip",
	"jobsheet.html", "jobsheet.pdf", "handoff.json", "handoff_run.json",
}

func runHandoff(s Streams, o *handoffOptions) error {
	if err := settled(s, o.From); err != nil {
		return err
	}
	zones, made, err := readZones(o.From)
	if err != nil {
		return err
	}
	set, inputs, err := o.settings(made)
	if err != nil {
		return usageError{err}
	}
	inputs = append(zones.paths(), inputs...)
	if err := checkFolder(o.Out, inputs, handoffFiles[:], o.Force); err != nil {
		return err
	}
	if set.KeepOffs, err = o.keepOffs.read(); err != nil {
		return err
	}
	set.Closed = zones.closed
	result, err := handoff.Run(zones.collection.Features, set)
	var keepOff *handoff.KeepOffError
	switch {
	case errors.As(err, &keepOff): // it is about another file
		return err
	case err != nil:
		return fmt.Errorf("%s: %w", zones.collection.Name, err)
	}
	if o.rate.value == nil {
		result.Notes = append(result.Notes, "no --rate was given, so no task data and no tank loads")
	}
	sheet := jobsheet.Sheet{Result: result, Mix: o.mix(), Units: o.Units}
	files, err := o.render(sheet, inputs)
	if err != nil {
		return err
	}
	if err := writeFolder(s, o.Out, files, handoffFiles[:]); err != nil {
		return err
	}
	switch {
	case o.Quiet:
		return nil
	case o.JSON:
		return sheet.WriteJSON(s.Out)
	}
	var names []string
	for _, f := range files {
		names = append(names, f.name)
	}
	return sheet.WriteScreen(s.Out, o.Out, names)
}

// zoneFile is the zones and where they were found.
type zoneFile struct {
	path       string
	collection geofile.Collection
	closedPath string // of the file beside it with ground that is no field; "" for none
	closed     []geo.Field
}

// readZones reads a file of zones or the folder of a map; made is what the map's
// record tells of each field.
func readZones(from string) (zoneFile, map[string]handoff.Grown, error) {
	path := from
	var made map[string]handoff.Grown
	info, err := os.Stat(from)
	if err != nil {
		return zoneFile{}, made, err
	}
	if info.IsDir() {
		path = filepath.Join(from, "zones.geojson")
	}
	c, err := geofile.Read(path, geofile.Limits{})
	if os.IsNotExist(err) {
		return zoneFile{}, made, hintedError{err, "give the folder that geocoris map wrote, or a file of zones"}
	}
	if err == nil && info.IsDir() {
		made, err = readMade(filepath.Join(from, "run.json"))
	}
	z := zoneFile{path: path, collection: c}
	if err == nil {
		err = z.readClosed()
	}
	return z, made, err
}

// readClosed reads the file beside the zones with what was drawn as no field. Maps of
// fields without any have none.
func (z *zoneFile) readClosed() error {
	path := filepath.Join(filepath.Dir(z.path), engine.ClosedFile)
	c, err := geofile.Read(path, geofile.Limits{})
	if os.IsNotExist(err) {
		return nil
	}
	if err != nil {
		return err
	}
	if z.closed, err = handoff.ClosedOf(c.Features); err != nil {
		return fmt.Errorf("%s: %w", path, err)
	}
	z.closedPath = path
	return nil
}

// paths are those of the files that were read.
func (z zoneFile) paths() []string {
	if z.closedPath == "" {
		return []string{z.path}
	}
	return []string{z.path, z.closedPath}
}

func (o *handoffOptions) mix() handoff.Mix {
	return handoff.Mix{Rate: o.rate.value, Tank: o.tank.value, Products: o.products}
}

// render makes all files before any is written.
func (o *handoffOptions) render(sheet jobsheet.Sheet, inputs []string) (files []outFile, err error) {
	add := func(name string, write func(io.Writer) error) {
		if err != nil {
			return
		}
		var b strings.Builder
		if err = write(&b); err != nil {
			err = fmt.Errorf("%s: %w", name, err)
			return
		}
		files = append(files, outFile{name, []byte(b.String())})
	}
	layers := sheet.Layers()
	for _, l := range layers {
		if l.Name != "fields" {
			add(l.Name+".geojson", func(w io.Writer) error {
				return geofile.WriteGeoJSON(w, geofile.FeatureCollection{Features: l.Features})
			})
		}
		if l.Name == "ground" || l.Name == "swaths" {
			add(l.Name+".zip", func(w io.Writer) error { return geofile.WriteShapefile(w, l) })
		}
	}
	document := sheet.Document()
	add("handoff.kml", func(w io.Writer) error { return geofile.WriteKML(w, document) })
	add("handoff.kmz", func(w io.Writer) error { return geofile.WriteKMZ(w, document) })
	add("handoff.gpkg", func(w io.Writer) error { return geofile.WriteGeoPackage(w, layers) })
	add("passes.gpx", func(w io.Writer) error { return geofile.WriteGPX(w, sheet.Route()) })
	if err != nil {
		return nil, err
	}
	task, err := sheet.Result.Prescription(sheet.Mix, handoff.TaskForm{Version: o.IsoVersion, Guidance: o.Guidance})
	if err != nil {
		return nil, err
	}
	if task != nil {
		task.Software = version()
		add("TASKDATA.zip", task.WriteZip)
	}
	add("jobsheet.html", sheet.WriteHTML)
	add("jobsheet.pdf", sheet.WritePDF)
	add("handoff.json", sheet.WriteJSON)
	add("handoff_run.json", func(w io.Writer) error { return o.writeRun(w, inputs) })
	return files, err
}

// gridCell is the side of the cells of the task data, m; 0 where these are polygons or
// are not written.
func (o *handoffOptions) gridCell() float64 {
	if o.rate.value == nil {
		return 0
	}
	return o.grid.base()
}

// quantityFlag is a flag for a number with a unit; nil where not given.
type quantityFlag struct {
	value *spray.Quantity
	parse func(string) (spray.Quantity, error)
	kind  string
}

func (q *quantityFlag) Set(text string) error {
	v, err := q.parse(text)
	if err != nil {
		return err
	}
	q.value = &v
	return nil
}

func (q *quantityFlag) String() string {
	if q.value == nil {
		return ""
	}
	return strings.ReplaceAll(q.value.String(), " ", "")
}

func (q *quantityFlag) Type() string { return q.kind }

func (q *quantityFlag) base() float64 {
	if q.value == nil {
		return 0
	}
	return q.value.Base
}
