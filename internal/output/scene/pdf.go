package scene

import (
	"bytes"
	"fmt"
	"image/color"
	"image/png"
	"io"
	"time"

	"codeberg.org/go-pdf/fpdf"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
)

const (
	pdfFont        = "Go"
	pointsPerInch  = 72
	millimetreInch = 25.4
)

// WritePDF writes the pictures as PDF, a page for each, with the part of the font
// in it that it needs. It holds no clock: the same pictures give the same bytes.
func WritePDF(w io.Writer, scenes []Scene) error {
	if len(scenes) == 0 {
		return fmt.Errorf("no picture to write")
	}
	doc := fpdf.NewCustom(&fpdf.InitType{UnitStr: "mm", Size: fpdf.SizeType{Wd: scenes[0].Width, Ht: scenes[0].Height}})
	day := time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)
	doc.SetCreationDate(day)
	doc.SetModificationDate(day)
	doc.SetCatalogSort(true)
	doc.SetProducer("geocoris", true)
	doc.SetTitle(scenes[0].Title, true)
	doc.SetSubject(scenes[0].Description, true)
	doc.SetLang("en")
	doc.SetMargins(0, 0, 0)
	doc.SetAutoPageBreak(false, 0)
	doc.AddUTF8FontFromBytes(pdfFont, "", goregular.TTF)
	doc.AddUTF8FontFromBytes(pdfFont, "B", gobold.TTF)
	c := &pdf{doc: doc}
	for _, s := range scenes {
		doc.AddPageFormat("P", fpdf.SizeType{Wd: s.Width, Ht: s.Height})
		doc.SetLineJoinStyle("round")
		for _, l := range s.Layers {
			for _, item := range l.Items {
				item.drawOn(c)
			}
		}
	}
	return doc.Output(w)
}

type pdf struct {
	doc    *fpdf.Fpdf
	images int
}

func (c *pdf) area(a Area) {
	c.look(a.Style)
	for _, r := range a.Rings {
		c.trace(r)
		c.doc.ClosePath()
	}
	c.paint(a.Style, "*")
}

func (c *pdf) lines(l Lines) {
	l.Style.Fill = color.NRGBA{}
	c.look(l.Style)
	for _, line := range l.Lines {
		c.trace(line)
	}
	c.paint(l.Style, "")
}

func (c *pdf) trace(points []Point) {
	for i, p := range points {
		if i == 0 {
			c.doc.MoveTo(p.X, p.Y)
		} else {
			c.doc.LineTo(p.X, p.Y)
		}
	}
}

// paint ends a path.
func (c *pdf) paint(s Style, rule string) {
	switch {
	case s.Fill.A > 0 && s.Stroke.A > 0:
		c.doc.DrawPath("DF" + rule)
	case s.Fill.A > 0:
		c.doc.DrawPath("F" + rule)
	default:
		c.doc.DrawPath("D")
	}
}

func (c *pdf) dots(d Dots) {
	c.look(Style{Fill: d.Colour})
	for _, p := range d.Centres {
		c.doc.Circle(p.X, p.Y, d.Radius, "F")
	}
}

func (c *pdf) disc(d Disc) {
	c.look(d.Style)
	how := "D"
	switch {
	case d.Style.Fill.A > 0 && d.Style.Stroke.A > 0:
		how = "DF"
	case d.Style.Fill.A > 0:
		how = "F"
	}
	c.doc.Circle(d.Centre.X, d.Centre.Y, d.Radius, how)
}

func (c *pdf) text(t Text) {
	t.Text, _ = Printable(t.Text) // the last to see it: no letter becomes an empty box
	style := ""
	if t.Bold {
		style = "B"
	}
	c.doc.SetFont(pdfFont, style, t.Size*pointsPerInch/millimetreInch)
	c.doc.SetTextColor(int(t.Colour.R), int(t.Colour.G), int(t.Colour.B))
	x := t.At.X
	switch t.Anchor {
	case Middle:
		x -= c.doc.GetStringWidth(t.Text) / 2
	case End:
		x -= c.doc.GetStringWidth(t.Text)
	}
	c.doc.Text(x, t.At.Y, t.Text)
}

func (c *pdf) raster(r Raster) {
	var b bytes.Buffer
	if err := png.Encode(&b, r.Image); err != nil {
		c.doc.SetError(err)
		return
	}
	c.images++
	name := fmt.Sprintf("raster%d", c.images)
	o := fpdf.ImageOptions{ImageType: "png"}
	c.doc.RegisterImageOptionsReader(name, o, &b)
	c.doc.ImageOptions(name, r.Min.X, r.Min.Y, r.Max.X-r.Min.X, r.Max.Y-r.Min.Y, false, o, 0, "")
}

// look sets colours and width: PDF allows that before a path is begun only.
func (c *pdf) look(s Style) {
	c.doc.SetFillColor(int(s.Fill.R), int(s.Fill.G), int(s.Fill.B))
	c.doc.SetDrawColor(int(s.Stroke.R), int(s.Stroke.G), int(s.Stroke.B))
	c.doc.SetLineWidth(s.Width)
}
