package scene

import (
	"bytes"
	"encoding/base64"
	"encoding/xml"
	"fmt"
	"image/color"
	"image/png"
	"io"
	"math"
	"strconv"
	"strings"
)

// WriteSVG writes the picture as SVG 1.1 (W3C 2011), self-contained: no font,
// script or address outside it. Text is text, in whatever sans serif the viewer
// has.
func WriteSVG(w io.Writer, s Scene) error {
	c := svg{}
	fmt.Fprintf(&c.b, `<?xml version="1.0" encoding="UTF-8"?>`+"\n"+
		`<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" version="1.1" width="%smm" height="%smm" viewBox="0 0 %s %s" role="img" aria-labelledby="title desc">`+"\n",
		mm(s.Width), mm(s.Height), mm(s.Width), mm(s.Height))
	fmt.Fprintf(&c.b, "<title id=\"title\">%s</title>\n<desc id=\"desc\">%s</desc>\n", escaped(s.Title), escaped(s.Description))
	c.layers(s)
	c.b.WriteString("</svg>\n")
	if c.err != nil {
		return c.err
	}
	_, err := w.Write(c.b.Bytes())
	return err
}

// Fragment returns the layers as SVG elements, a group of the class "layer" with
// the layer's name for each, to be put into a page of HTML. Keys become data-key.
func Fragment(s Scene) (string, error) {
	c := svg{inPage: true}
	c.layers(s)
	return c.b.String(), c.err
}

// svg writes elements. The first error is kept.
type svg struct {
	b      bytes.Buffer
	inPage bool
	err    error
}

func (c *svg) layers(s Scene) {
	for _, l := range s.Layers {
		if c.inPage {
			fmt.Fprintf(&c.b, "<g class=\"layer %s\">\n", escaped(l.Name))
		} else {
			c.b.WriteString("<g>\n")
		}
		for _, item := range l.Items {
			item.drawOn(c)
		}
		c.b.WriteString("</g>\n")
	}
}

func (c *svg) area(a Area) {
	fmt.Fprintf(&c.b, `<path d="%s" fill-rule="evenodd"%s%s/>`+"\n", path(a.Rings, true), look(a.Style), c.key(a.Key))
}

func (c *svg) lines(l Lines) {
	l.Style.Fill = color.NRGBA{}
	fmt.Fprintf(&c.b, `<path d="%s"%s/>`+"\n", path(l.Lines, false), look(l.Style))
}

// dots are lines of hardly any length with round ends: short to write, and drawn
// by every viewer.
func (c *svg) dots(d Dots) {
	c.b.WriteString(`<path d="`)
	for _, p := range d.Centres {
		c.b.WriteString("M" + mm(p.X) + " " + mm(p.Y) + "h.01")
	}
	fmt.Fprintf(&c.b, `" fill="none" stroke="%s" stroke-width="%s" stroke-linecap="round"/>`+"\n", hex(d.Colour), mm(2*d.Radius))
}

func (c *svg) disc(d Disc) {
	fmt.Fprintf(&c.b, `<circle cx="%s" cy="%s" r="%s"%s%s/>`+"\n", mm(d.Centre.X), mm(d.Centre.Y), mm(d.Radius), look(d.Style), c.key(d.Key))
}

func (c *svg) text(t Text) {
	anchor := [...]string{"", ` text-anchor="middle"`, ` text-anchor="end"`}[t.Anchor]
	weight := ""
	if t.Bold {
		weight = ` font-weight="bold"`
	}
	fmt.Fprintf(&c.b, `<text x="%s" y="%s" font-family="sans-serif" font-size="%s"%s%s fill="%s">%s</text>`+"\n",
		mm(t.At.X), mm(t.At.Y), mm(t.Size), weight, anchor, hex(t.Colour), escaped(t.Text))
}

func (c *svg) raster(r Raster) {
	var b bytes.Buffer
	if err := png.Encode(&b, r.Image); err != nil {
		c.err = err
		return
	}
	href := "xlink:href"
	if c.inPage {
		href = "href"
	}
	fmt.Fprintf(&c.b, `<image x="%s" y="%s" width="%s" height="%s" preserveAspectRatio="none" %s="data:image/png;base64,%s"/>`+"\n",
		mm(r.Min.X), mm(r.Min.Y), mm(r.Max.X-r.Min.X), mm(r.Max.Y-r.Min.Y), href, base64.StdEncoding.EncodeToString(b.Bytes()))
}

// key is for pages only: SVG 1.1 knows no data attributes.
func (c *svg) key(k string) string {
	if k == "" || !c.inPage {
		return ""
	}
	return fmt.Sprintf(` data-key="%s"`, escaped(k))
}

func look(s Style) string {
	fill, stroke := `fill="none"`, ""
	if s.Fill.A > 0 {
		fill = fmt.Sprintf(`fill="%s"`, hex(s.Fill))
	}
	if s.Stroke.A > 0 {
		stroke = fmt.Sprintf(` stroke="%s" stroke-width="%s" stroke-linejoin="round"`, hex(s.Stroke), mm(s.Width))
	}
	return " " + fill + stroke
}

func path(lines [][]Point, closed bool) string {
	var b []byte
	for _, l := range lines {
		for i, p := range l {
			switch i {
			case 0:
				b = append(b, 'M')
			case 1:
				b = append(b, 'L')
			default:
				b = append(b, ' ')
			}
			b = append(append(append(b, mm(p.X)...), ' '), mm(p.Y)...)
		}
		if closed && len(l) > 0 {
			b = append(b, 'Z')
		}
	}
	return string(b)
}

// mm writes a length to a hundredth of a millimetre.
func mm(v float64) string {
	return strconv.FormatFloat(math.Round(v*100)/100+0, 'f', -1, 64)
}

func hex(c color.NRGBA) string { return fmt.Sprintf("#%02x%02x%02x", c.R, c.G, c.B) }

// escaped is a text as XML takes it: signs that XML does not know, which names from files
// may hold, become U+FFFD.
func escaped(text string) string {
	var b strings.Builder
	_ = xml.EscapeText(&b, []byte(text)) // a Builder takes all
	return b.String()
}
