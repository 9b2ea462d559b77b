package geofile

import (
	"archive/zip"
	"bytes"
	"fmt"
	"io"
	"math"

	"github.com/twpayne/go-kml/v3"

	"github.com/geocoris/geocoris/internal/files/archive"
)

// An Overlay is a picture over a box of degrees, as PNG; its rows and columns are
// equal steps of latitude and longitude.
type Overlay struct {
	Name                     string
	PNG                      []byte
	West, South, East, North float64
}

// Overlays are pictures on the ground with a legend that stands on the screen.
type Overlays struct {
	Name        string
	Description string
	Pictures    []Overlay
	Legend      []byte // PNG; none is no legend
	Styles      []Style
	Folders     []Folder // placemarks over the pictures
}

// WriteOverlaysKMZ writes a zip archive with doc.kml (OGC KML 2.2, 07-147r2) and the
// pictures below files/, byte-equal on every run. Boxes that are not on the earth,
// without ground or across longitude 180 are errors, and so are styles and geometries
// that [WriteKML] refuses.
func WriteOverlaysKMZ(w io.Writer, o Overlays) error {
	if err := checkStyles(o.Styles); err != nil {
		return err
	}
	children := []kml.Element{kml.Name(o.Name), kml.Open(true), kml.Description(forViewers(o.Description))}
	var files []overlayFile
	known := map[string]bool{}
	for _, s := range o.Styles {
		known[s.ID] = true
		children = append(children, style(s, stopIcon))
		files = []overlayFile{{stopIcon, stopPNG}}
	}
	for i, p := range o.Pictures {
		if !(-180 <= p.West && p.West < p.East && p.East <= 180 && -90 <= p.South && p.South < p.North && p.North <= 90) {
			return &Error{File: "KML overlay " + p.Name, Msg: fmt.Sprintf("a box from %v, %v to %v, %v", p.West, p.South, p.East, p.North)}
		}
		f := overlayFile{fmt.Sprintf("files/surface%d.png", i+1), p.PNG}
		files = append(files, f)
		children = append(children, kml.GroundOverlay(
			kml.Name(p.Name), kml.Icon(kml.Href(f.name)),
			kml.LatLonBox(kml.North(degrees(p.North)), kml.South(degrees(p.South)), kml.East(degrees(p.East)), kml.West(degrees(p.West))),
		))
	}
	if len(o.Legend) > 0 {
		files = append(files, overlayFile{"files/legend.png", o.Legend})
		corner := kml.Vec2{X: 0.01, Y: 0.98, XUnits: kml.UnitsFraction, YUnits: kml.UnitsFraction}
		children = append(children, kml.ScreenOverlay(
			kml.Name("Legend"), kml.Icon(kml.Href("files/legend.png")),
			kml.OverlayXY(kml.Vec2{X: 0, Y: 1, XUnits: kml.UnitsFraction, YUnits: kml.UnitsFraction}), kml.ScreenXY(corner),
		))
	}
	var text bytes.Buffer
	for _, f := range o.Folders {
		children = append(children, folder{outputTo(&text), f, known})
	}
	if err := kml.KML(kml.Document(children...)).WriteIndent(&text, "", indent); err != nil {
		return err
	}
	return writeArchive(w, append([]overlayFile{{"doc.kml", text.Bytes()}}, files...))
}

type overlayFile struct {
	name    string
	content []byte
}

func writeArchive(w io.Writer, files []overlayFile) error {
	z := zip.NewWriter(w)
	for _, f := range files {
		entry, err := archive.Add(z, f.name)
		if err != nil {
			return err
		}
		if _, err := entry.Write(f.content); err != nil {
			return err
		}
	}
	return z.Close()
}

// degrees keeps nine decimals: a tenth of a millimetre.
func degrees(v float64) float64 { return math.Round(v*1e9) / 1e9 }
