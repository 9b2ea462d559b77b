// Package scene draws the map of a field as a picture: one description of what
// stands where, and three back ends that write it as SVG, PDF and PNG.
//
// All lengths are millimetres on paper, x to the right and y down from the upper
// left corner. Back ends know nothing of fields and zones, and the builder nothing
// of formats, so the three files show the same. Colour is never the only sign:
// ground to be treated is hatched, ground to be watched dotted, clear ground
// plain. The same input gives the same bytes.
package scene

import (
	"image"
	"image/color"
)

// A Point is a place on paper in millimetres.
type Point struct{ X, Y float64 }

// A Scene is a picture: layers are drawn one over the other, the first at the
// bottom.
type Scene struct {
	Width, Height float64 // millimetres
	Title         string
	Description   string // the picture in words, for those who cannot see it
	Layers        []Layer
}

// A Layer is what can be shown and hidden together.
type Layer struct {
	Name  string
	Items []Item
}

// An Item is one of [Area], [Lines], [Dots], [Disc], [Text] and [Raster].
type Item interface{ drawOn(canvas) }

// A Style says how a shape looks. A colour without alpha is not drawn.
type Style struct {
	Fill   color.NRGBA
	Stroke color.NRGBA
	Width  float64 // of the stroke
}

// An Area is closed rings under the even-odd rule; outer rings are wound one way
// and holes the other, so the non-zero rule gives the same.
type Area struct {
	Rings [][]Point // not repeated at the end
	Style Style
	Key   string // by which a reader finds the shape again; "" is none
}

// Lines are open polylines of one look.
type Lines struct {
	Lines [][]Point
	Style Style
}

// Dots are many small discs of one look.
type Dots struct {
	Centres []Point
	Radius  float64
	Colour  color.NRGBA
}

// A Disc is a circle.
type Disc struct {
	Centre Point
	Radius float64
	Style  Style
	Key    string
}

// An Anchor says which end of a text stands at its place.
type Anchor int

// Anchors.
const (
	Start Anchor = iota
	Middle
	End
)

// A Text is one line.
type Text struct {
	At     Point // on the baseline
	Size   float64
	Bold   bool
	Anchor Anchor
	Colour color.NRGBA
	Text   string
}

// A Raster is a picture stretched over a box.
type Raster struct {
	Min, Max Point
	Image    image.Image
}

// canvas is a back end.
type canvas interface {
	area(Area)
	lines(Lines)
	dots(Dots)
	disc(Disc)
	text(Text)
	raster(Raster)
}

func (a Area) drawOn(c canvas)   { c.area(a) }
func (l Lines) drawOn(c canvas)  { c.lines(l) }
func (d Dots) drawOn(c canvas)   { c.dots(d) }
func (d Disc) drawOn(c canvas)   { c.disc(d) }
func (t Text) drawOn(c canvas)   { c.text(t) }
func (r Raster) drawOn(c canvas) { c.raster(r) }
