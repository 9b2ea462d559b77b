package geofile

import (
	"archive/zip"
	"bytes"
	"fmt"
	"image/color"
	"io"
	"math"
	"strconv"

	"github.com/paulmach/orb"
	"github.com/twpayne/go-kml/v3"

	"github.com/geocoris/geocoris/geo"
)

// A Document is what a KML file holds.
type Document struct {
	Name        string
	Description string
	Styles      []Style
	Folders     []Folder
}

// A Style says how placemarks look. Its ID begins with a letter and holds no
// blanks.
type Style struct {
	ID    string
	Fill  color.NRGBA // of areas
	Line  color.NRGBA
	Width float64     // of lines, pixels
	Icon  color.NRGBA // of points
	Scale float64     // of points, 1 is the viewer's size
}

// A Folder groups placemarks under a name in the viewer's list.
type Folder struct {
	Name        string
	Description string
	Placemarks  []Placemark
}

// A Placemark is one feature on the map. Data are shown by viewers as a table.
type Placemark struct {
	Name        string
	Description string
	Style       string // the ID of a style of the document
	Geometry    orb.Geometry
	Data        geo.Properties
}

// WriteKML writes OGC KML 2.2 (07-147r2): areas on the ground, seven decimals,
// outer rings counter-clockwise. A geometry that a reader would refuse is an
// error.
func WriteKML(w io.Writer, d Document) error {
	children := []kml.Element{kml.Name(d.Name), kml.Open(true), kml.Description(d.Description)}
	for _, s := range d.Styles {
		children = append(children, style(s))
	}
	for _, f := range d.Folders {
		folder, err := folder(f)
		if err != nil {
			return err
		}
		children = append(children, folder)
	}
	return kml.KML(kml.Document(children...)).WriteIndent(w, "", " ")
}

// WriteKMZ writes the same as a zip archive with doc.kml in it, byte-equal on
// every run.
func WriteKMZ(w io.Writer, d Document) error {
	var text bytes.Buffer
	if err := WriteKML(&text, d); err != nil {
		return err
	}
	archive := zip.NewWriter(w)
	entry, err := archive.CreateHeader(&zip.FileHeader{Name: "doc.kml", Method: zip.Deflate})
	if err != nil {
		return err
	}
	if _, err := entry.Write(text.Bytes()); err != nil {
		return err
	}
	return archive.Close()
}

func style(s Style) kml.Element {
	return kml.SharedStyle(s.ID,
		kml.IconStyle(kml.Color(straight(s.Icon)), kml.Scale(s.Scale)),
		kml.LineStyle(kml.Color(straight(s.Line)), kml.Width(s.Width)),
		kml.PolyStyle(kml.Color(straight(s.Fill))),
	)
}

// straight is a colour whose parts are written as they are: KML does not
// multiply them by the alpha, as [color.Color] asks.
type straight color.NRGBA

// RGBA implements [color.Color] but for that.
func (c straight) RGBA() (r, g, b, a uint32) {
	const widen = 0x101
	return uint32(c.R) * widen, uint32(c.G) * widen, uint32(c.B) * widen, uint32(c.A) * widen
}

func folder(f Folder) (kml.Element, error) {
	children := []kml.Element{kml.Name(f.Name)}
	if f.Description != "" {
		children = append(children, kml.Description(f.Description))
	}
	for i, p := range f.Placemarks {
		placemark, err := placemark(p)
		if err != nil {
			err.File, err.Feature = "KML folder "+f.Name, i+1
			return nil, err
		}
		children = append(children, placemark)
	}
	return kml.Folder(children...), nil
}

func placemark(p Placemark) (kml.Element, *Error) {
	if err := checkGeometry(p.Geometry); err != nil {
		return nil, err
	}
	children := []kml.Element{kml.Name(p.Name)}
	if p.Description != "" {
		children = append(children, kml.Description(p.Description))
	}
	if p.Style != "" {
		children = append(children, kml.StyleURL("#"+p.Style))
	}
	if len(p.Data) > 0 {
		children = append(children, extendedData(p.Data))
	}
	return kml.Placemark(append(children, geometry(p.Geometry))...), nil
}

// extendedData writes values as text; nil is an empty one.
func extendedData(data geo.Properties) kml.Element {
	var children []kml.Element
	for _, d := range data {
		children = append(children, kml.Data(d.Name, kml.Value(valueText(d.Value))))
	}
	return kml.ExtendedData(children...)
}

func valueText(v any) string {
	switch v := v.(type) {
	case nil:
		return ""
	case float64:
		if math.IsNaN(v) {
			return ""
		}
		return strconv.FormatFloat(v, 'f', -1, 64)
	}
	return fmt.Sprint(v)
}

func geometry(g orb.Geometry) kml.Element {
	switch g := g.(type) {
	case orb.Point:
		return kml.Point(coordinates(orb.LineString{g}))
	case orb.LineString:
		return kml.LineString(kml.Tessellate(true), coordinates(g))
	case orb.Polygon:
		return polygon(geo.Wind(orb.MultiPolygon{g})[0])
	case orb.MultiPolygon:
		var parts []kml.Element
		for _, p := range geo.Wind(g) {
			parts = append(parts, polygon(p))
		}
		return kml.MultiGeometry(parts...)
	}
	var parts []kml.Element
	for _, part := range g.(orb.Collection) {
		parts = append(parts, geometry(part))
	}
	return kml.MultiGeometry(parts...)
}

func polygon(p orb.Polygon) kml.Element {
	children := []kml.Element{kml.Tessellate(true)}
	for i, r := range p {
		ring := kml.LinearRing(coordinates(orb.LineString(r)))
		if i == 0 {
			children = append(children, kml.OuterBoundaryIs(ring))
		} else {
			children = append(children, kml.InnerBoundaryIs(ring))
		}
	}
	return kml.Polygon(children...)
}

func coordinates(line orb.LineString) kml.Element {
	out := make([]kml.Coordinate, len(line))
	for i, p := range line {
		out[i] = kml.Coordinate{Lon: rounded(p[0]), Lat: rounded(p[1])}
	}
	return kml.Coordinates(out...)
}
