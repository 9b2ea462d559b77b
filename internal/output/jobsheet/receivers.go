package jobsheet

import (
	"path"
	"strings"
)

// receivers are who takes files of a hand-off, and the standard these go by. A file is
// of the first whose pattern its name has.
var receivers = [...]struct{ use, pattern, standard string }{
	{"Console in the cab", "TASKDATA.zip", "ISO 11783-10 task data"},
	{"Console in the cab", "rate_*.zip", "Shapefile, zipped: the column rate"},
	{"Console in the cab", "on_off.zip", "Shapefile, zipped: the column on"},
	{"One folder for each field", "fields.zip", "the same files, unpacked"},
	{"Guidance display", "*.zip", "Shapefile, zipped"},
	{"Guidance display", "*.gpx", "GPX 1.1"},
	{"Aircraft or drone", "flight.kml", "OGC KML 2.2"},
	{"Aircraft or drone", "flight.geojson", "GeoJSON, RFC 7946"},
	{"Map on a phone", "*.kmz", "OGC KML 2.2, zipped"},
	{"Map on a phone", "*.kml", "OGC KML 2.2"},
	{"Desktop GIS", "*.gpkg", "OGC GeoPackage"},
	{"Desktop GIS", "*.geojson", "GeoJSON, RFC 7946"},
	{"Spreadsheet", "*.csv", "CSV, RFC 4180"},
	{"Spreadsheet", "*.xlsx", "Office Open XML"},
	{"Paper", "jobsheet.pdf", "PDF, without tags"},
	{"Reading and reading aloud", "jobsheet.html", "HTML"},
}

// fileRows tell which of the files written is for what, with the standard.
func (s Sheet) fileRows() (rows [][]string) {
	names := make([][]string, len(receivers))
	for _, name := range s.Files {
		for i, r := range receivers {
			if fits, _ := path.Match(r.pattern, name); fits {
				names[i] = append(names[i], name)
				break
			}
		}
	}
	for i, r := range receivers {
		if len(names[i]) > 0 {
			rows = append(rows, []string{s.Units.Text(r.use), strings.Join(names[i], ", "), s.Units.Text(r.standard)})
		}
	}
	return rows
}
