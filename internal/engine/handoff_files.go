//go:build !small

package engine

import (
	"io"
	"maps"

	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/output/jobsheet"
	"github.com/geocoris/geocoris/internal/output/report"
	"github.com/geocoris/geocoris/internal/spraying/handoff"
)

// HandoffFiles are all names that Handoff may give files; handoff.gpkg only where the
// build writes GeoPackages.
var HandoffFiles = [...]string{
	"ground.geojson", "swaths.geojson", "passes.geojson", "switches.geojson", "keep_off.geojson", "left_out.geojson",
	"ground.zip", "swaths.zip", "handoff.kml", "handoff.kmz", "handoff.gpkg", "passes.gpx", "TASKDATA.zip",
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
		r.Inputs = append(r.Inputs, InputOf(s))
	}
	if r.Settings, err = texts(q.Settings); err != nil {
		return r, err
	}
	maps.Copy(r.Settings, q.Asked)
	return r, nil
}

// files renders everything, side by side.
func (q HandoffRequest) files(sheet jobsheet.Sheet) ([]File, error) {
	run, err := q.record()
	if err != nil {
		return nil, err
	}
	task, err := sheet.Result.Prescription(sheet.Mix, handoff.TaskForm{Version: q.Settings.IsoVersion, Guidance: q.Settings.Guidance})
	if err != nil {
		return nil, err
	}
	layers := sheet.Layers()
	document := sheet.Document()
	all := append(layerFiles(layers),
		rendering{"handoff.kml", func(w io.Writer) error { return geofile.WriteKML(w, document) }},
		rendering{"handoff.kmz", func(w io.Writer) error { return geofile.WriteKMZ(w, document) }})
	if geofile.WithGeoPackage {
		all = append(all, rendering{"handoff.gpkg", func(w io.Writer) error { return geofile.WriteGeoPackage(w, layers) }})
	}
	all = append(all, rendering{"passes.gpx", func(w io.Writer) error { return geofile.WriteGPX(w, sheet.Route()) }})
	if task != nil {
		task.Software = q.Version
		all = append(all, rendering{"TASKDATA.zip", task.WriteZip})
	}
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

// layerFiles are the layers as GeoJSON, and as Shapefiles those that machines take.
func layerFiles(layers []geofile.Layer) (all []rendering) {
	for _, l := range layers {
		if l.Name != "fields" {
			all = append(all, rendering{l.Name + ".geojson", collection(l.Features)})
		}
		if l.Name == "ground" || l.Name == "swaths" {
			all = append(all, rendering{l.Name + ".zip", func(w io.Writer) error { return geofile.WriteShapefile(w, l) }})
		}
	}
	return all
}
