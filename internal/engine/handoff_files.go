//go:build !small

package engine

import (
	"io"
	"maps"
	"path/filepath"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/output/jobsheet"
	"github.com/geocoris/geocoris/internal/output/report"
	"github.com/geocoris/geocoris/internal/spraying/handoff"
)

// HandoffFiles are all names that Handoff may give files; handoff.gpkg only where the
// build writes GeoPackages.
var HandoffFiles = [...]string{
	"rate_l_ha.zip", "rate_gal_ac.zip", "on_off.zip", "ground.zip", "swaths.zip", "passes.zip", "ab_lines.zip", "keep_off.zip", "boundary.zip", "fields.zip",
	"rate_l_ha.geojson", "rate_gal_ac.geojson", "on_off.geojson", "ground.geojson", "swaths.geojson", "passes.geojson", "ab_lines.geojson",
	"switches.geojson", "keep_off.geojson", "left_out.geojson", "boundary.geojson",
	"ground.kml", "keep_off.kml", "flight.kml", "flight.geojson", "handoff.kml", "handoff.kmz", "handoff.gpkg", "passes.gpx", "passes.csv", "TASKDATA.zip",
	"jobsheet.html", "jobsheet.pdf", "handoff.json", "handoff_run.json",
}

// A HandoffRecord is handoff_run.json: how the files came to be. It holds no clock.
type HandoffRecord struct {
	Program  string            `json:"program"`
	Version  string            `json:"version"`
	Command  string            `json:"command"`
	Inputs   []Input           `json:"inputs"`
	Settings map[string]string `json:"settings"` // as typed
}

func (q HandoffRequest) record() (r HandoffRecord, err error) {
	r = HandoffRecord{Program: Program, Version: q.Version, Command: "handoff"}
	for _, s := range q.inputs() {
		in := InputOf(s)
		in.Path = filepath.ToSlash(in.Path) // the same on every system
		r.Inputs = append(r.Inputs, in)
	}
	if r.Settings, err = texts(q.Settings); err != nil {
		return r, err
	}
	maps.Copy(r.Settings, q.Asked)
	return r, nil
}

// files renders everything, side by side. The sheet is told of what a file lacks.
func (q HandoffRequest) files(sheet *jobsheet.Sheet) ([]File, error) {
	run, err := q.record()
	if err != nil {
		return nil, err
	}
	task, err := sheet.Result.Prescription(sheet.Mix, q.Settings.taskForm())
	if err != nil {
		return nil, err
	}
	layers, err := sheet.Layers()
	if err != nil {
		return nil, err
	}
	all, notes, err := partsOf(*sheet, layers)
	if err != nil {
		return nil, err
	}
	sheet.Result.Notes = append(sheet.Result.Notes, notes...)
	document := sheet.Document()
	all = append(all,
		rendering{"handoff.kml", func(w io.Writer) error { return geofile.WriteKML(w, document) }},
		rendering{"handoff.kmz", func(w io.Writer) error { return geofile.WriteKMZ(w, document) }},
		rendering{"passes.csv", sheet.WriteTable})
	if len(sheet.Result.Jobs) > 1 {
		folders, err := fieldFolders(*sheet)
		if err != nil {
			return nil, err
		}
		all = append(all, rendering{"fields.zip", func(w io.Writer) error { return geofile.WriteArchive(w, folders) }})
	}
	if geofile.WithGeoPackage {
		all = append(all, rendering{"handoff.gpkg", func(w io.Writer) error { return geofile.WriteGeoPackage(w, layers) }})
	}
	if task != nil {
		task.Software = q.Version
		all = append(all, rendering{"TASKDATA.zip", task.WriteZip})
	}
	return q.withSheets(*sheet, all, run)
}

// withSheets are the files with the sheets that name them, and the record.
func (q HandoffRequest) withSheets(sheet jobsheet.Sheet, all []rendering, run HandoffRecord) ([]File, error) {
	for _, f := range all {
		sheet.Files = append(sheet.Files, f.name)
	}
	sheet.Files = append(sheet.Files, "jobsheet.html", "jobsheet.pdf")
	return render(append(all,
		rendering{"jobsheet.html", sheet.WriteHTML},
		rendering{"jobsheet.pdf", sheet.WritePDF},
		rendering{"handoff.json", sheet.WriteJSON},
		rendering{"handoff_run.json", func(w io.Writer) error { return report.WriteJSON(w, run) }}))
}

// partsOf are the files of one purpose each: layers as GeoJSON, and as Shapefiles those
// that machines take; plain ground, passes for receivers, and the flight. The notes tell of
// what is not in them.
func partsOf(sheet jobsheet.Sheet, layers []geofile.Layer) (all []rendering, notes []string, err error) {
	for _, l := range layers {
		all = append(all, rendering{l.Name + ".geojson", collection(l.Features)})
		if forMachines(l.Name) {
			all = append(all, rendering{l.Name + ".zip", func(w io.Writer) error { return geofile.WriteShapefile(w, l) }})
		}
	}
	for _, one := range []struct {
		file, name string
		ground     func(*handoff.Result) []geo.Feature
	}{{"ground.kml", "spray ground", (*handoff.Result).Ground}, {"keep_off.kml", "closed ground", (*handoff.Result).KeptOff}} {
		if d, ok := sheet.Plain(one.name, one.ground); ok {
			all = append(all, rendering{one.file, func(w io.Writer) error { return geofile.WriteKML(w, d) }})
		}
	}
	flight, way, notes, err := sheet.Flight()
	if err != nil {
		return nil, nil, err
	}
	return append(all,
		rendering{"flight.geojson", collection(flight)},
		rendering{"flight.kml", func(w io.Writer) error { return geofile.WriteKML(w, way) }},
		rendering{"passes.gpx", func(w io.Writer) error { return geofile.WriteGPX(w, sheet.Route()) }}), notes, nil
}

// forMachines tells of which layers there are Shapefiles.
func forMachines(layer string) bool { return layer != "switches" && layer != "left_out" }
