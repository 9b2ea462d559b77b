package engine

import (
	"fmt"
	"slices"
	"strings"
)

// Files to be looked at, which are made when asked for.
const (
	reportFile = "report.html"
	pngFile    = "map.png"
	svgFile    = "map.svg"
	pdfFile    = "map.pdf"
	tiffFile   = "surface.tif"
	kmzFile    = "surface.kmz"

	overview                  = "overview" // asks for both of these
	overviewCSV, overviewXLSX = "overview.csv", "overview.xlsx"
)

// Files of all fields in one, for other programs, which are made when asked for by name.
const (
	sequenceFile = "zones.geojsons"
	packageFile  = "zones.gpkg"
)

// PictureFiles are the names of the files to be looked at that do not go by the fields.
var PictureFiles = [...]string{reportFile, pngFile, svgFile, pdfFile, tiffFile, kmzFile, overviewCSV, overviewXLSX}

// mostPictures bounds the fields that have a PNG or SVG of their own.
const mostPictures = 100

// WriteSettings say which files are wanted besides.
type WriteSettings struct {
	Write []string `toml:"write" json:"write,omitempty"`
}

// wanted are the names of the files to be looked at, each once, in the order of [PictureFiles].
func (o WriteSettings) wanted() (names []string, err error) {
	asked := map[string]bool{}
	for _, w := range o.Write {
		switch name := strings.TrimSpace(w); {
		case name == "all":
			return PictureFiles[:], nil
		case name == "report":
			asked[reportFile] = true
		case name == overview:
			asked[overviewCSV], asked[overviewXLSX] = true, true
		case slices.Contains(PictureFiles[:], name):
			asked[name] = true
		case name == sequenceFile || name == packageFile:
		default:
			return nil, fmt.Errorf("--write %q: want report, %s, overview, or all for all of these; or %s, %s", name, strings.Join(PictureFiles[1:6], ", "), sequenceFile, packageFile)
		}
	}
	for _, name := range PictureFiles {
		if asked[name] {
			names = append(names, name)
		}
	}
	return names, nil
}

// wants reports whether a file is asked for by its name.
func (o WriteSettings) wants(name string) bool {
	return slices.ContainsFunc(o.Write, func(w string) bool { return strings.TrimSpace(w) == name })
}

// draws reports whether a file asked for needs surfaces, which take much memory.
func (o WriteSettings) draws() bool {
	names, _ := o.wanted()
	return slices.ContainsFunc(names, func(name string) bool { return name != overviewCSV && name != overviewXLSX })
}
