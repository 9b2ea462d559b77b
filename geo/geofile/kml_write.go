package geofile

import (
	"bufio"
	"bytes"
	_ "embed" // for the picture of points
	"encoding/xml"
	"errors"
	"fmt"
	"image/color"
	"io"
	"iter"
	"math"
	"slices"
	"strconv"
	"time"

	"github.com/paulmach/orb"
	"github.com/twpayne/go-kml/v3"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/files/archive"
)

// A Document is what a KML file holds.
type Document struct {
	Name        string
	Description string
	Styles      []Style
	Folders     []Folder
	Placemarks  []Placemark // after the folders, in none
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
	// LabelScale is the size of names on the map, 1 for the viewer's; 0 leaves it
	// to the viewer.
	LabelScale float64
}

// A Folder groups placemarks under a name in the viewer's list.
type Folder struct {
	Name        string
	Description string
	Folders     []Folder // within it, before its placemarks
	Placemarks  []Placemark
	// Each is further placemarks, after the others, made one by one as they are written,
	// so that a document of very many need not be held; nil is none. It may be gone
	// through several times.
	Each iter.Seq[Placemark]
}

// All are the placemarks of a folder, those of folders within left out.
func (f Folder) All() iter.Seq[Placemark] {
	return func(yield func(Placemark) bool) {
		for _, p := range f.Placemarks {
			if !yield(p) {
				return
			}
		}
		if f.Each != nil {
			f.Each(yield)
		}
	}
}

// A Placemark is one feature on the map. Data are shown by viewers as a table.
type Placemark struct {
	Name        string
	Description string
	Style       string // the ID of a style of the document; any other is left out
	Hidden      bool   // until it is switched on in the viewer's list
	Geometry    orb.Geometry
	Data        geo.Properties
	// Above is a height over the ground in metres at which lines and areas are drawn, with
	// areas as walls down to the ground; nil lays them on it.
	Above      *float64
	Begin, End time.Time // when it holds; a zero time leaves that end open
}

// WriteKML writes OGC KML 2.2 (07-147r2): areas on the ground, seven decimals,
// outer rings counter-clockwise. A geometry that a reader would refuse or that
// crosses the antimeridian is an error, and so are styles that XML or the schema
// does not allow. Holes and parts narrower than the last decimal are dropped, and so are
// folders without placemarks. Points have no picture of their own: a file alone cannot
// hold one, and none is fetched from elsewhere.
func WriteKML(w io.Writer, d Document) error {
	if err := checkStyles(d.Styles); err != nil {
		return err
	}
	if err := checkPlacemarks("", d.Folders, d.Placemarks); err != nil {
		return err
	}
	known := map[string]bool{}
	children := []kml.Element{kml.Name(d.Name), kml.Open(true), kml.Description(forViewers(d.Description))}
	for _, s := range d.Styles {
		known[s.ID] = true
		children = append(children, style(s, ""))
	}
	for _, f := range d.Folders {
		children = append(children, folder{outputTo(w), f, known})
	}
	for i, p := range d.Placemarks {
		children = append(children, placed{"KML", i, p, known})
	}
	return kml.KML(kml.Document(children...)).WriteIndent(w, "", indent)
}

// indent is by how much an element stands in from the one that it is in.
const indent = " "

// WriteKMZ writes the same as a zip archive with doc.kml in it, byte-equal on
// every run. Points are dots in the colour of their style, by a picture in the archive.
func WriteKMZ(w io.Writer, d Document) error {
	var text bytes.Buffer
	if err := WriteKML(&text, d); err != nil {
		return err
	}
	return ArchiveKML(w, &text)
}

// readAtOnce is how much of a document is packed at a time.
const readAtOnce = 32 << 10

// ArchiveKML writes what [WriteKML] wrote as [WriteKMZ] does.
func ArchiveKML(w io.Writer, text io.Reader) error {
	z := archive.NewWriter(w)
	entry, err := archive.Add(z, "doc.kml")
	if err != nil {
		return err
	}
	lines := bufio.NewReaderSize(text, readAtOnce)
	styled, err := withIcons(entry, lines)
	if err != nil {
		return err
	}
	if _, err := io.Copy(entry, lines); err != nil {
		return err
	}
	if styled {
		if entry, err = archive.Add(z, stopIcon); err != nil {
			return err
		}
		if _, err := entry.Write(stopPNG); err != nil {
			return err
		}
	}
	return z.Close()
}

// stopIcon is the picture of points within an archive: a white dot, which viewers tint in
// the colour of the style.
const stopIcon = "files/stop.png"

//go:embed stop.png
var stopPNG []byte

// withIcons copies a document up to its first folder and gives each style the picture of
// points; styled tells whether there is one. Elements stand on lines of their own.
func withIcons(w io.Writer, text *bufio.Reader) (styled bool, err error) {
	for {
		line, err := text.ReadBytes('\n')
		if err != nil && !errors.Is(err, io.EOF) {
			return styled, err
		}
		if bytes.Equal(bytes.TrimSpace(line), []byte("</IconStyle>")) {
			styled = true
			if _, err := io.WriteString(w, "<Icon><href>"+stopIcon+"</href></Icon>\n"); err != nil {
				return styled, err
			}
		}
		if _, err := w.Write(line); err != nil {
			return styled, err
		}
		if err != nil || bytes.Equal(bytes.TrimSpace(line), []byte("<Folder>")) {
			return styled, nil
		}
	}
}

// style has an icon by the name of a file in the archive, "" for none.
func style(s Style, icon string) kml.Element {
	point := []kml.Element{kml.Color(straight(s.Icon)), kml.Scale(s.Scale)}
	if icon != "" {
		point = append(point, kml.Icon(kml.Href(icon)))
	}
	children := []kml.Element{kml.IconStyle(point...)}
	if s.LabelScale != 0 {
		children = append(children, kml.LabelStyle(kml.Scale(s.LabelScale)))
	}
	return kml.SharedStyle(s.ID, append(children,
		kml.LineStyle(kml.Color(straight(s.Line)), kml.Width(s.Width)),
		kml.PolyStyle(kml.Color(straight(s.Fill))),
	)...)
}

// straight is a colour whose parts are written as they are: KML does not
// multiply them by the alpha, as [color.Color] asks.
type straight color.NRGBA

// RGBA implements [color.Color] but for that.
func (c straight) RGBA() (r, g, b, a uint32) {
	const widen = 0x101
	return uint32(c.R) * widen, uint32(c.G) * widen, uint32(c.B) * widen, uint32(c.A) * widen
}

// checkPlacemarks finds what cannot be written before anything is, among placemarks that
// are there already.
func checkPlacemarks(name string, folders []Folder, placemarks []Placemark) error {
	for _, f := range folders {
		if err := checkPlacemarks(" folder "+f.Name, f.Folders, f.Placemarks); err != nil {
			return err
		}
	}
	for i, p := range placemarks {
		if _, err := writable(p.Geometry); err != nil {
			err.File, err.Feature = "KML"+name, i+1
			return err
		}
	}
	return nil
}

// A folder is written as it is gone through, and not at all where it holds no placemark.
type folder struct {
	out output // where the document goes
	Folder
	known map[string]bool // IDs of the styles of the document
}

// MarshalXML implements [kml.Element].
func (f folder) MarshalXML(e *xml.Encoder, _ xml.StartElement) error {
	begun, written := false, f.out.by(e)
	if err := f.parts(func(part kml.Element) error {
		if !begun {
			begun = true
			if err := f.begin(e); err != nil {
				return err
			}
		}
		return written.put(part)
	}); err != nil || !begun {
		return err
	}
	if err := written.end(); err != nil {
		return err
	}
	return e.EncodeToken(folderTag.End())
}

var folderTag = xml.StartElement{Name: xml.Name{Local: "Folder"}}

func (f folder) begin(e *xml.Encoder) error {
	if err := e.EncodeToken(folderTag); err != nil {
		return err
	}
	if err := kml.Name(f.Name).MarshalXML(e, xml.StartElement{}); err != nil || f.Description == "" {
		return err
	}
	return kml.Description(forViewers(f.Description)).MarshalXML(e, xml.StartElement{})
}

// parts goes through what the folder holds: folders that hold something, and placemarks.
func (f folder) parts(put func(kml.Element) error) error {
	for _, within := range f.Folders {
		if !within.holds() {
			continue
		}
		if err := put(folder{f.out.within(), within, f.known}); err != nil {
			return err
		}
	}
	i := 0
	for p := range f.All() {
		if err := put(placed{"KML folder " + f.Name, i, p, f.known}); err != nil {
			return err
		}
		i++
	}
	return nil
}

// holds reports whether there is any placemark in the folder or within it.
func (f Folder) holds() bool {
	for range f.All() {
		return true
	}
	return slices.ContainsFunc(f.Folders, Folder.holds)
}

// placed is a placemark at its place among others. It is written with a style of the document
// or none: a link to nowhere is legal, but no viewer can follow it.
type placed struct {
	in    string
	at    int
	mark  Placemark
	known map[string]bool
}

// MarshalXML implements [kml.Element].
func (p placed) MarshalXML(e *xml.Encoder, start xml.StartElement) error {
	element, err := placemark(p.styled())
	if err != nil {
		return p.located(err)
	}
	return element.MarshalXML(e, start)
}

// styled is the placemark with a style of the document or none.
func (p placed) styled() Placemark {
	mark := p.mark
	if !p.known[mark.Style] {
		mark.Style = ""
	}
	return mark
}

// located says which placemark an error is of.
func (p placed) located(err *Error) error {
	err.File, err.Feature = p.in, p.at+1
	return err
}

func placemark(p Placemark) (kml.Element, *Error) {
	shape, err := writable(p.Geometry)
	if err != nil {
		return nil, err
	}
	children := []kml.Element{kml.Name(p.Name)}
	if p.Hidden {
		children = append(children, kml.Visibility(false))
	}
	if p.Description != "" {
		children = append(children, kml.Description(forViewers(p.Description)))
	}
	children = append(children, timeSpan(p.Begin, p.End)...)
	if p.Style != "" {
		children = append(children, kml.StyleURL("#"+p.Style))
	}
	if len(p.Data) > 0 {
		children = append(children, extendedData(p.Data))
	}
	return kml.Placemark(append(children, geometry(shape, p.Above))...), nil
}

// timeSpan is none where both ends are open.
func timeSpan(begin, end time.Time) []kml.Element {
	var ends []kml.Element
	if !begin.IsZero() {
		ends = append(ends, kml.Begin(begin))
	}
	if !end.IsZero() {
		ends = append(ends, kml.End(end))
	}
	if ends == nil {
		return nil
	}
	return []kml.Element{kml.TimeSpan(ends...)}
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
	case string:
		return v
	case float64:
		if math.IsNaN(v) {
			return ""
		}
		return strconv.FormatFloat(v, 'f', -1, 64)
	}
	return fmt.Sprint(v)
}

func geometry(g orb.Geometry, above *float64) kml.Element {
	switch g := g.(type) {
	case orb.Point:
		return kml.Point(coordinates(orb.LineString{g}, nil))
	case orb.LineString:
		return kml.LineString(append(lie(above, false), coordinates(g, above))...)
	case orb.Polygon:
		return polygon(g, above)
	case orb.MultiPoint:
		return multiGeometry(g, above)
	case orb.MultiLineString:
		return multiGeometry(g, above)
	case orb.MultiPolygon:
		return multiGeometry(g, above)
	}
	return multiGeometry(g.(orb.Collection), above)
}

// lie is how a geometry lies: along the ground, or at a height over it.
func lie(above *float64, walls bool) []kml.Element {
	switch {
	case above == nil:
		return []kml.Element{kml.Tessellate(true)}
	case walls:
		return []kml.Element{kml.Extrude(true), kml.AltitudeMode(kml.AltitudeModeRelativeToGround)}
	}
	return []kml.Element{kml.AltitudeMode(kml.AltitudeModeRelativeToGround)}
}

func multiGeometry[G orb.Geometry](parts []G, above *float64) kml.Element {
	children := make([]kml.Element, len(parts))
	for i, part := range parts {
		children[i] = geometry(part, above)
	}
	return kml.MultiGeometry(children...)
}

func polygon(p orb.Polygon, above *float64) kml.Element {
	children := lie(above, true)
	for i, r := range p {
		ring := kml.LinearRing(coordinates(orb.LineString(r), above))
		if i == 0 {
			children = append(children, kml.OuterBoundaryIs(ring))
		} else {
			children = append(children, kml.InnerBoundaryIs(ring))
		}
	}
	return kml.Polygon(children...)
}

func coordinates(line orb.LineString, above *float64) kml.Element {
	out := make([]kml.Coordinate, len(line))
	for i, p := range line {
		out[i] = kml.Coordinate{Lon: p[0], Lat: p[1]}
		if above != nil {
			out[i].Alt = *above
		}
	}
	return kml.Coordinates(out...)
}
