package jobsheet

import (
	"io"
	"slices"
	"strings"

	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/output/scene"
)

// WritePDF writes the sheet as PDF, for each field a page and what goes with it; the
// same bytes on every run. It has no tags: those who read by ear take the HTML.
func (s Sheet) WritePDF(w io.Writer) error { return scene.WritePDF(w, s.scenes()) }

// scenes are the pages of print: one of all fields where there are several, then for
// each field its job, and its places, files and figures.
func (s Sheet) scenes() (out []scene.Scene) {
	all := s.pages()
	if len(all) > 1 {
		out = append(out, s.totals(all)...)
	}
	for i, p := range all {
		of := ""
		if len(all) > 1 {
			of = s.Units.Say("field %d of %d", i+1, len(all))
		}
		out = append(out, stamped(p.scene(), of))
		for _, more := range s.appendix(p) {
			out = append(out, stamped(more, of))
		}
	}
	return out
}

// stamped has a text in its upper right corner.
func stamped(sc scene.Scene, text string) scene.Scene {
	if text != "" {
		sc.Layers[0].Items = append(sc.Layers[0].Items, scene.Text{At: scene.Point{X: pageWidth - edge, Y: 17}, Size: textSize, Anchor: scene.End, Colour: grey, Text: text})
	}
	return sc
}

// fits are sizes of text, and heights of the maps in mm, that are tried until the page
// holds all: maps give way first, down to where passes can still be told apart.
var fits = [...]struct{ text, mapHeight float64 }{{1, 88}, {0.94, 88}, {0.94, 80}, {0.88, 80}, {0.88, 72}, {0.82, 72}, {0.82, 64}, {0.76, 64}, {0.7, 60}}

// numberRoom is left free beside the title for the number of the page.
const numberRoom = 25.0

// lowest is where the page's text must end.
const lowest = pageHeight - 5

// scene lays out one page.
func (p page) scene() scene.Scene {
	var items []scene.Item
	for _, fit := range fits {
		d := pen{k: fit.text, sign: 1}
		bottom := p.draw(&d, fit.mapHeight)
		items = d.items
		if bottom <= lowest {
			break
		}
	}
	return scene.Scene{
		Width: pageWidth, Height: pageHeight, Title: p.title, Description: p.inWords(),
		Layers: []scene.Layer{{Name: "page", Items: items}},
	}
}

// draw lays out everything, maps of a height in mm, and returns how far down it goes.
func (p page) draw(d *pen, mapHeight float64) float64 {
	const (
		gap   = 4.0
		width = (pageWidth - 2*edge - gap) / 2
		right = edge + width + gap
	)
	u := p.units
	y := p.head(d)
	field, ground := views(p.job)
	d.drawMap(p.job, field, p.units, frame{edge, y, width, mapHeight})
	columns := [2]float64{y + mapHeight + 4, y + 2.5}
	if ground != nil {
		d.drawMap(p.job, *ground, p.units, frame{right, y, width, mapHeight})
		y = d.legend(edge, y+mapHeight+4, pageWidth-2*edge, legend(p.job, true, p.units))
		columns = [2]float64{y + 1, y + 1}
	} else {
		columns[0] = d.legend(edge, columns[0], width, legend(p.job, false, p.units)) + 1
	}
	for _, block := range []struct {
		title string
		rows  []row
	}{{u.Text("Ground"), p.ground}, {u.Text("Passes"), append(p.work, p.places...)}, {u.Text("Tank, from what was typed in"), p.mix}} {
		side := 0
		if columns[1] < columns[0] {
			side = 1
		}
		x := [2]float64{edge, right}[side]
		y := d.heading(x, columns[side], width, block.title)
		columns[side] = d.table(x, y, width, block.rows) + 2*d.k
	}
	y = max(columns[0], columns[1]) + d.k
	y = d.blanks(y, u)
	y = d.weather(y+2*d.k, u)
	return d.cautions(y+2*d.k, u)
}

// head writes what stands above the maps.
func (p page) head(d *pen) float64 {
	top := 17.0
	if p.warning != "" {
		top = d.fill(edge, 12, pageWidth-2*edge-numberRoom, words{size: 4, bold: true, tone: ink}, p.warning) + 2.5
	}
	y := d.title(top, p.title, p.units)
	y = d.fill(edge, y, pageWidth-2*edge, words{size: 3.3, tone: grey}, p.subtitle)
	for _, line := range p.says {
		y = d.fill(edge, y+0.6, pageWidth-2*edge, words{size: 3.6, bold: true, tone: ink}, line)
	}
	for _, line := range p.banner {
		y = d.fill(edge, y+0.6, pageWidth-2*edge, plain(), line)
	}
	return y + 1
}

// title writes the title on the baseline y, smaller where it is long, over as many
// lines as it needs, and returns the baseline of what follows.
func (p *pen) title(y float64, text string, u figures.Units) float64 {
	const width, most = pageWidth - 2*edge - numberRoom, 2
	size := 6.0
	if len(wrap(printed(text), width/(size*p.k), true)) > most {
		size = 4
	}
	end := p.fill(edge, y, width, words{size: size, bold: true, tone: ink}, text)
	y = end - size*p.k*leading + 5.5
	if _, all := scene.Printable(text); !all {
		y = p.fill(edge, y, pageWidth-2*edge, words{size: 3.3, tone: grey}, u.Say("%s; jobsheet.html has it as it is written", u.Text(scene.LettersLacking)))
	}
	return y
}

// inWords is the page for those who cannot see it.
func (p page) inWords() string {
	parts := slices.Concat([]string{p.subtitle}, p.says, p.banner)
	if p.warning != "" {
		parts = append([]string{p.warning}, parts...)
	}
	for _, rows := range [][]row{p.ground, p.work, p.places, p.mix} {
		for _, r := range rows {
			parts = append(parts, r.label+": "+r.value)
		}
	}
	return strings.Join(parts, "; ")
}

func (p *pen) heading(x, y, width float64, text string) float64 {
	p.set(x, y, words{size: 3.3, bold: true, tone: ink}, text)
	p.line(0.25, ink, scene.Point{X: x, Y: y + 1}, scene.Point{X: x + width, Y: y + 1})
	return y + 5*p.k
}

// blanks are the lines to fill off the label.
func (p *pen) blanks(y float64, u figures.Units) float64 {
	const width = (pageWidth - 2*edge - 6) / 2
	y = p.heading(edge, y, pageWidth-2*edge, u.Text("Off the label in hand")) + 1
	for i, label := range labelBlanks(u) {
		x := edge + float64(i%2)*(width+6)
		p.set(x, y, plain(), label)
		p.line(0.2, grey, scene.Point{X: x + 38, Y: y + 0.6}, scene.Point{X: x + width, Y: y + 0.6})
		if i%2 == 1 {
			y += 6
		}
	}
	return y
}

// weather is a table with a row for the start and one for the end.
func (p *pen) weather(y float64, u figures.Units) float64 {
	const height, first = 6.0, 24.0
	y = p.heading(edge, y, pageWidth-2*edge, u.Text("Weather while spraying")) - 2
	blanks := weatherBlanks(u)
	width := (pageWidth - 2*edge - first) / float64(len(blanks))
	for r, label := range [...]string{"", u.Text("Start"), u.Text("End")} {
		p.box(edge, y, first, height)
		p.set(edge+1, y+4, bold(), label)
		for i, blank := range blanks {
			x := edge + first + float64(i)*width
			p.box(x, y, width, height)
			if r == 0 {
				p.set(x+1, y+4, words{size: 2.6, tone: ink}, blank)
			}
		}
		y += height
	}
	return y + 3
}

func (p *pen) cautions(y float64, u figures.Units) float64 {
	y = p.heading(edge, y, pageWidth-2*edge, u.Text("Before you spray"))
	for _, c := range cautionsIn(u) {
		y = p.fill(edge+3, y, pageWidth-2*edge-3, words{size: 2.6, tone: ink}, "• "+c) + 0.3
	}
	return y
}
