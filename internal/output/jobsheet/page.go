package jobsheet

import (
	"fmt"
	"html"
	"io"
	"strings"

	"github.com/geocoris/geocoris/internal/output/scene"
)

// WritePDF writes the sheet as PDF, a page for each field; the same bytes on every
// run.
func (s Sheet) WritePDF(w io.Writer) error { return scene.WritePDF(w, s.scenes(true)) }

// WriteHTML writes the sheet as one self-contained file, a page for each field.
func (s Sheet) WriteHTML(w io.Writer) error {
	var b strings.Builder
	fmt.Fprintf(&b, htmlHead, pageWidth, pageHeight)
	for i, page := range s.Scenes() {
		fmt.Fprintf(&b, "<section aria-label=%q>\n", html.EscapeString(page.Title))
		var picture strings.Builder
		if err := scene.WriteSVG(&picture, page); err != nil {
			return err
		}
		text := picture.String()
		if i := strings.Index(text, "<svg"); i > 0 {
			text = text[i:] // no second XML declaration
		}
		// Names of one page must not be those of another.
		b.WriteString(strings.NewReplacer(
			`"title desc"`, fmt.Sprintf(`"title%d desc%d"`, i+1, i+1),
			`id="title"`, fmt.Sprintf(`id="title%d"`, i+1), `id="desc"`, fmt.Sprintf(`id="desc%d"`, i+1),
		).Replace(text) + "</section>\n")
	}
	b.WriteString("</body>\n</html>\n")
	_, err := io.WriteString(w, b.String())
	return err
}

// htmlHead makes every section one printed page.
const htmlHead = `<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width">
<title>Spray job sheet</title>
<style>
@page { size: %gmm %gmm; margin: 0 }
body { margin: 0; background: #ddd; print-color-adjust: exact; -webkit-print-color-adjust: exact }
section { width: 210mm; height: 279mm; margin: 4mm auto; background: #fff; overflow: hidden; break-after: page; break-inside: avoid }
section:last-of-type { break-after: auto }
section svg { display: block; width: 100%%; height: 100%% }
@media print { body { background: none } section { margin: 0 } }
@media (max-width: 215mm) { section { width: 100%%; height: auto } }
</style>
</head>
<body>
`

// Scenes are the pages as pictures for viewers that have fonts for all letters.
func (s Sheet) Scenes() []scene.Scene { return s.scenes(false) }

func (s Sheet) scenes(print bool) (out []scene.Scene) {
	all := s.pages()
	for i, p := range all {
		sc := p.scene(print)
		if len(all) > 1 {
			sc.Layers[0].Items = append(sc.Layers[0].Items, scene.Text{
				At: scene.Point{X: pageWidth - edge, Y: 17}, Size: textSize, Anchor: scene.End, Colour: grey,
				Text: fmt.Sprintf("field %d of %d", i+1, len(all)),
			})
		}
		out = append(out, sc)
	}
	return out
}

// sizes of text that are tried until the page holds all.
var sizes = [...]float64{1, 0.94, 0.88, 0.82, 0.76, 0.7}

// numberRoom is left free beside the title for the number of the page.
const numberRoom = 25.0

// lowest is where the page's text must end.
const lowest = pageHeight - 5

// scene lays out one page.
func (p page) scene(print bool) scene.Scene {
	var items []scene.Item
	for _, k := range sizes {
		d := pen{k: k, print: print}
		bottom := p.draw(&d)
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

// draw lays out everything and returns how far down it goes.
func (p page) draw(d *pen) float64 {
	const (
		mapSize = 100.0
		column  = edge + mapSize + 4
		right   = pageWidth - edge - column
	)
	top := 17.0
	if p.warning != "" {
		top = d.fill(edge, 12, pageWidth-2*edge-numberRoom, words{size: 4, bold: true, tone: ink}, p.warning) + 2.5
	}
	y := d.title(top, p.title)
	y = d.fill(edge, y, pageWidth-2*edge, words{size: 3.3, tone: grey}, p.subtitle)
	for _, line := range p.banner {
		y = d.fill(edge, y+0.6, pageWidth-2*edge, bold(), line)
	}
	top = y + 1
	d.drawMap(p.job, frame{edge, top, mapSize, mapSize})
	below := d.legend(edge, top+mapSize+4.5, p.job)
	y = d.heading(column, top+2.5, right, "Ground")
	y = d.table(column, y, right, p.ground)
	y = d.heading(column, y+2*d.k, right, "Passes")
	y = d.table(column, y, right, p.work)
	y = d.heading(column, y+2*d.k, right, "Tank, from what was typed in")
	y = d.table(column, y, right, p.mix)
	y = max(y, below) + 3*d.k
	y = d.blanks(y)
	y = d.weather(y + 2*d.k)
	return d.cautions(y + 2*d.k)
}

// title writes the title on the baseline y, smaller where it is long, over as many
// lines as it needs, and returns the baseline of what follows.
func (p *pen) title(y float64, text string) float64 {
	const width, most = pageWidth - 2*edge - numberRoom, 2
	size := 6.0
	if len(wrap(p.shown(text), width/(size*p.k), true)) > most {
		size = 4
	}
	end := p.fill(edge, y, width, words{size: size, bold: true, tone: ink}, text)
	y = end - size*p.k*leading + 5.5
	if _, all := scene.Printable(text); p.print && !all {
		y = p.fill(edge, y, pageWidth-2*edge, words{size: 3.3, tone: grey}, scene.LettersLacking+"; jobsheet.html has it as it is written")
	}
	return y
}

// inWords is the page for those who cannot see it.
func (p page) inWords() string {
	parts := append([]string{p.subtitle}, p.banner...)
	if p.warning != "" {
		parts = append([]string{p.warning}, parts...)
	}
	for _, rows := range [][]row{p.ground, p.work, p.mix} {
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
func (p *pen) blanks(y float64) float64 {
	const width = (pageWidth - 2*edge - 6) / 2
	y = p.heading(edge, y, pageWidth-2*edge, "Off the label in hand") + 1
	for i, label := range labelBlanks {
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
func (p *pen) weather(y float64) float64 {
	const height, first = 6.0, 24.0
	y = p.heading(edge, y, pageWidth-2*edge, "Weather while spraying") - 2
	width := (pageWidth - 2*edge - first) / float64(len(weatherBlanks))
	for r, label := range [...]string{"", "Start", "End"} {
		p.box(edge, y, first, height)
		p.set(edge+1, y+4, bold(), label)
		for i, blank := range weatherBlanks {
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

func (p *pen) cautions(y float64) float64 {
	y = p.heading(edge, y, pageWidth-2*edge, "Before you spray")
	for _, c := range cautions {
		y = p.fill(edge+3, y, pageWidth-2*edge-3, words{size: 2.6, tone: ink}, "• "+c) + 0.3
	}
	return y
}
