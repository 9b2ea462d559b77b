package fieldwork

import (
	"fmt"
	"html/template"
	"io"
	"math"
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/rules"
)

// sheetRow is a stop on the printed sheet.
type sheetRow struct{ Name, Latitude, Longitude, Leg, Mark string }

// WriteSheet writes the plan as a page to print and take along: a map of the
// stops and lines to fill in.
func (p Plan) WriteSheet(w io.Writer) error {
	picture, err := p.picture()
	if err != nil {
		return err
	}
	var rows []sheetRow
	for _, s := range p.Stops {
		mark := ""
		if s.Edge {
			mark = "edge"
		}
		rows = append(rows, sheetRow{s.Name, fmt.Sprintf("%.5f", s.Lonlat[1]), fmt.Sprintf("%.5f", s.Lonlat[0]), fmt.Sprintf("%.0f", s.Leg), mark})
	}
	all, _, _ := p.columns()
	columns := slices.DeleteFunc(slices.Clone(all), func(c rules.Column) bool { return c.Title == "" })
	return sheetPage().Execute(w, map[string]any{
		"Field": p.Field.Name, "Lines": strings.Split(strings.TrimSpace(p.Text()), "\n"), "Rows": rows, "Columns": columns,
		"Picture": template.HTML(picture),
	})
}

const (
	pictureWidth  = 640.0
	pictureHeight = 420.0
	pictureMargin = 24.0
)

// picture draws field, walk and stops, north up.
func (p Plan) picture() (string, error) {
	frame, err := geo.FrameOf(p.Field.Boundary)
	if err != nil {
		return "", err
	}
	field := frame.ForwardPolygons(p.Field.Boundary)
	b := geo.Bound(field)
	if p.Settings.Start != nil {
		b = b.Extend(frame.Forward(*p.Settings.Start))
	}
	scale := min((pictureWidth-2*pictureMargin)/(b.Max[0]-b.Min[0]), (pictureHeight-2*pictureMargin)/(b.Max[1]-b.Min[1]))
	at := func(xy orb.Point) string {
		return fmt.Sprintf("%.1f %.1f", pictureMargin+(xy[0]-b.Min[0])*scale, pictureMargin+(b.Max[1]-xy[1])*scale)
	}
	var s strings.Builder
	fmt.Fprintf(&s, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %.0f %.1f" role="img" font-family="sans-serif" font-size="11">`+"\n",
		pictureWidth, 2*pictureMargin+(b.Max[1]-b.Min[1])*scale)
	fmt.Fprintf(&s, "<title>stops of %s</title>\n", escape(p.Field.Name))
	s.WriteString(`<path fill="#eee" fill-rule="evenodd" stroke="#000" d="`)
	for _, polygon := range field {
		for _, ring := range polygon {
			s.WriteString("M")
			for _, xy := range ring {
				s.WriteString(at(xy) + " ")
			}
			s.WriteString("Z")
		}
	}
	s.WriteString("\"/>\n<polyline fill=\"none\" stroke=\"#777\" stroke-dasharray=\"3 3\" points=\"")
	for _, lonlat := range p.way() {
		s.WriteString(at(frame.Forward(lonlat)) + " ")
	}
	s.WriteString("\"/>\n")
	for _, stop := range p.Stops {
		s.WriteString(mark(at(frame.Forward(stop.Lonlat)), stop.Name, stop.Edge))
	}
	if p.Settings.Start != nil {
		fmt.Fprintf(&s, `<g transform="translate(%s)"><path d="M-6 6L0 -6L6 6Z"/><text x="9" y="4">start</text></g>`+"\n", at(frame.Forward(*p.Settings.Start)))
	}
	fmt.Fprintf(&s, `<g transform="translate(%.0f %.0f)"><path d="M0 14V-8M-4 -2L0 -8L4 -2" fill="none" stroke="#000"/><text text-anchor="middle" y="-11">N</text></g>`+"\n", pictureWidth-16, 26.0)
	s.WriteString(scaleBar(scale, 2*pictureMargin+(b.Max[1]-b.Min[1])*scale))
	s.WriteString("</svg>\n")
	return s.String(), nil
}

// mark is a stop: a circle, or a square along the edge.
func mark(at, name string, edge bool) string {
	shape := `<circle r="4" fill="#fff" stroke="#000"/>`
	if edge {
		shape = `<rect x="-4" y="-4" width="8" height="8" fill="#fff" stroke="#000"/>`
	}
	return fmt.Sprintf(`<g transform="translate(%s)">%s<text x="6" y="-4">%s</text></g>`+"\n", at, shape, escape(name))
}

// scaleBar is a round number of metres, about a fifth of the picture.
func scaleBar(scale, height float64) string {
	metres := math.Pow(10, math.Floor(math.Log10(pictureWidth/5/scale)))
	for _, f := range []float64{5, 2} {
		if metres*f*scale <= pictureWidth/4 {
			metres *= f
			break
		}
	}
	return fmt.Sprintf(`<path d="M%.1f %.1fh%.1f" stroke="#000" stroke-width="3"/><text x="%.1f" y="%.1f">%s m</text>`+"\n",
		pictureMargin, height-7, metres*scale, pictureMargin+metres*scale+6, height-4, figures.Short(metres))
}

func sheetPage() *template.Template {
	return template.Must(template.New("sheet").Parse(`<!DOCTYPE html>
<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width"><title>{{.Field}}: stops</title>
<style>
@page { margin: 12mm }
body { font: 10pt/1.3 sans-serif; color: #000; background: #fff; max-width: 190mm; margin: auto }
h1 { font-size: 13pt; margin: 0 0 2mm }
p { margin: 0 }
svg { width: 100%; max-height: 110mm; margin: 2mm 0 }
table { border-collapse: collapse; width: 100%; font-variant-numeric: tabular-nums }
thead { display: table-header-group }
tr { break-inside: avoid }
th, td { border: .2mm solid #000; padding: .8mm 1mm; text-align: right }
th { text-align: center }
.write { width: 17% } .note { width: 24% }
</style></head><body>
<h1>{{.Field}}: stops in walking order</h1>
{{range .Lines}}<p>{{.}}</p>
{{end}}{{.Picture}}<p>Date ________ Observer ____________ Stage ____ Pest ____________ A blank is not a zero: write 0 where you looked and found none.</p>
<table><thead><tr><th>stop</th><th>latitude</th><th>longitude</th><th>metres to it</th>{{range .Columns}}<th{{if not .Filled}} class="write"{{end}}>{{.Title}}{{with .Filled}} ({{.}}){{end}}</th>{{end}}<th class="note">notes</th></tr></thead>
<tbody>
{{range .Rows}}<tr><td>{{.Name}}</td><td>{{.Latitude}}</td><td>{{.Longitude}}</td><td>{{.Leg}}</td>{{range $.Columns}}<td></td>{{end}}<td>{{.Mark}}</td></tr>
{{end}}</tbody></table>
</body></html>
`))
}
