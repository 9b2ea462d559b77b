package jobsheet

import (
	"image/color"
	"strings"

	"github.com/geocoris/geocoris/internal/geometry/zones"
	"github.com/geocoris/geocoris/internal/output/report"
	"github.com/geocoris/geocoris/internal/output/scene"
)

// The paper is what ISO A4 and US Letter have in common, millimetres.
const (
	pageWidth  = 210.0
	pageHeight = 279.0
	edge       = 12.0
	textSize   = 2.9
	leading    = 1.32 // of the text's size, from line to line
)

var (
	ink    = color.NRGBA{A: 0xFF}
	grey   = color.NRGBA{0x59, 0x59, 0x59, 0xFF}
	closed = color.NRGBA{0x80, 0x80, 0x80, 0xFF}
	// treat ground as on the map, made lighter so that hatch and lines stand out, and the
	// hatch; blue is that of Okabe & Ito 2008.
	treat      = report.PaleColour(zones.Treat)
	treatHatch = report.Colour(zones.Treat)
	blue       = color.NRGBA{0x00, 0x72, 0xB2, 0xFF}
)

// pen collects what is drawn on a page. Text and the rows of it are k times their
// size, so that a page with much to say still is one page.
type pen struct {
	items []scene.Item
	k     float64
	sign  float64 // size of what is written on maps, 1 in print
	taken []frame // writing on the map being drawn
}

func (p *pen) add(items ...scene.Item) { p.items = append(p.items, items...) }

func (p *pen) line(width float64, colour color.NRGBA, points ...scene.Point) {
	p.add(scene.Lines{Lines: [][]scene.Point{points}, Style: scene.Style{Stroke: colour, Width: width}})
}

func (p *pen) box(x, y, w, h float64) {
	p.add(scene.Area{Rings: [][]scene.Point{corners(x, y, w, h)}, Style: scene.Style{Stroke: ink, Width: 0.25}})
}

// words is a piece of text to be set.
type words struct {
	size float64
	bold bool
	tone color.NRGBA
}

func plain() words { return words{size: textSize, tone: ink} }
func bold() words  { return words{size: textSize, bold: true, tone: ink} }

// set writes one line with its baseline at y.
func (p *pen) set(x, y float64, w words, text string) {
	p.add(scene.Text{At: scene.Point{X: x, Y: y}, Size: w.size * p.k, Bold: w.bold, Colour: w.tone, Text: text})
}

// fill writes a text in lines no wider than width, the first on the baseline y,
// and returns the baseline after the last.
func (p *pen) fill(x, y, width float64, w words, text string) float64 {
	for _, line := range wrap(printed(text), width/(w.size*p.k), w.bold) {
		p.set(x, y, w, line)
		y += w.size * p.k * leading
	}
	return y
}

// printed is a text in the letters that the font of print has; others stand as their
// numbers.
func printed(text string) string {
	text, _ = scene.Printable(text)
	return text
}

// table writes rows below each other, labels bold.
func (p *pen) table(x, y, width float64, rows []row) float64 {
	const labels = 0.36
	for _, r := range rows {
		left := p.fill(x, y, width*labels-1, bold(), r.label)
		right := p.fill(x+width*labels, y, width*(1-labels), plain(), r.value)
		y = max(left, right) + 0.5*p.k
	}
	return y
}

// wrap breaks a text into lines no wider than so many ems.
func wrap(text string, ems float64, bold bool) []string {
	return scene.Wrap(text, func(line string) bool { return measure(line, bold) <= ems })
}

// wider is how much wider letters are in bold.
const wider = 1.13

// measure estimates the width of a text in ems, on the wide side of DejaVu Sans, the
// widest of the common sans serif fonts, so that nothing is cut off whatever the
// viewer has.
func measure(text string, bold bool) (ems float64) {
	for _, c := range text {
		switch {
		case strings.ContainsRune("iljI.,:;'| ", c):
			ems += 0.34
		case strings.ContainsRune("frt!()[]/-²·", c):
			ems += 0.42
		case strings.ContainsRune("mMW@%—", c):
			ems += 1
		case strings.ContainsRune("w+×=<>~#&", c):
			ems += 0.84
		case c >= 'A' && c <= 'Z':
			ems += 0.79
		case c >= 0x2E80: // letters of East Asia and signs fill the square
			ems += 1
		default:
			ems += 0.64
		}
	}
	if bold {
		ems *= wider
	}
	return ems
}
