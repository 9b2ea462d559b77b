//go:build !small

package fieldwork

import (
	"fmt"
	"html/template"
	"io"
	"slices"

	"github.com/geocoris/geocoris/internal/language/figures"
)

// sheetStop is a stop on the printed sheet.
type sheetStop struct{ Name, Latitude, Longitude, Leg, Mark string }

// A sheetSide is the stops of one side of paper.
type sheetSide struct {
	Title string
	Stops []sheetStop
}

// WriteSheet writes the plan as a page to print and take along: a map of the walk on the
// front, then boxes to fill in, with no stop on two sides.
func (p Plan) WriteSheet(w io.Writer) error {
	picture, err := p.picture()
	if err != nil {
		return err
	}
	boxes := p.boxes()
	_, _, stage := p.columns()
	return paper{title: p.Said.Say("%s: stops", p.Field.Name), said: p.Said, style: sheetStyle, body: sheetBody}.write(w, map[string]any{
		"Field": p.Field.Name, "Walk": p.walkLines(), "Count": p.countLines(), "Cites": p.cites(),
		"Picture": template.HTML(picture), "Sides": p.sides(max(1, linesAPage/len(boxes.Lines))),
		"Boxes": boxes, "Across": boxes.across(), "Lines": len(boxes.Lines), "Sums": p.sums(), "Pest": p.Said.Language().Pest(p.Pest), "Stage": stage, "Say": p.Said.Text, "Title": p.Said.Say("%s: stops in walking order", p.Field.Name),
	})
}

func (p Plan) sides(most int) (sides []sheetSide) {
	for stops := range slices.Chunk(p.Stops, most) {
		side := sheetSide{Title: p.Said.Say("stops %s to %s", stops[0].Name, stops[len(stops)-1].Name)}
		for _, s := range stops {
			one := sheetStop{Name: s.Name, Latitude: fmt.Sprintf("%.5f", s.Lonlat[1]), Longitude: fmt.Sprintf("%.5f", s.Lonlat[0]),
				Leg: figures.Trimmed(s.Leg, 0) + " m"}
			switch {
			case s.Edge:
				one.Mark = p.Said.Text("edge")
			case s.Extra:
				one.Mark = p.Said.Text("extra")
			}
			side.Stops = append(side.Stops, one)
		}
		sides = append(sides, side)
	}
	return sides
}

// walkLines say how to walk, a sentence or two each.
func (p Plan) walkLines() (lines []string) {
	edge := 0
	for _, s := range p.Stops {
		if s.Edge {
			edge++
		}
	}
	lines = append(lines, p.Said.Say("%s, at least %s inside the edge.", p.Said.Counted(len(p.Stops)-edge, "stop"), p.Said.Length(p.Settings.Inside)))
	if edge > 0 {
		lines = append(lines, p.Said.Say("%s along the edge, from E1 on. Do not average them with the others.", p.Said.Counted(edge, "more stop")))
	}
	lines = append(lines, p.Said.Say("The walk is %s in a straight line from stop to stop%s. It takes about %s, with %s min at a stop.",
		p.Said.Way(p.Distance), p.around(), hours(p.Minutes), figures.Short(p.Settings.Minutes)))
	if p.OffField > 0 {
		lines = append(lines, p.Said.Say("%s of it leave the field or cross ground to keep off. The true way is longer.", p.Said.Counted(p.OffField, "leg")))
	}
	return lines
}

// countLines say what to count at a stop.
func (p Plan) countLines() (lines []string) {
	if n := p.Needs; n != nil {
		r := n.Level.Rule
		lines = append(lines, p.Said.Say("At each stop: %s.", p.boxes().For))
		if which := r.Sampling.Which; which != "" {
			lines = append(lines, p.Said.Say("Which leaves: %s.", p.Said.Text(which)))
		}
		if len(p.Stops) < n.Places {
			lines = append(lines, p.Said.Say("These are fewer stops than the %d places that the source asks for.", n.Places))
		}
		lines = append(lines, p.Said.Say("Threshold: %s.", RuleLevel(r, n.Level.Band, p.Said)))
	}
	return append(lines, p.Said.Text("A blank is not a zero: write 0 where you looked and found none. Young, wingless and small ones count."),
		p.Said.Text("Thresholds differ by region and year. Your local extension service and the label come first."))
}

// cites are the sources of the rule.
func (p Plan) cites() (sources []string) {
	if p.Needs == nil {
		return nil
	}
	sources = append(sources, p.Needs.Level.Source())
	if s := p.Needs.Level.Rule.Sampling.Source; s != "" {
		sources = append(sources, p.Said.Say("Counting: %s", s))
	}
	return sources
}

// Lines are 10 mm high and boxes about as wide, 20 lines to a side of A4 and of letter.
const sheetStyle = `
svg { display: block; width: 100%; max-width: 150mm; max-height: 150mm; margin: 2mm auto }
.head { display: flex; flex-wrap: wrap; gap: 3mm 6mm; margin: 2mm 0 }
.head span { flex: 1 1 36mm; border-bottom: .3mm solid #000; padding-bottom: 1mm }
.small { font-size: 9pt }
.side { break-before: page }
.wide table { min-width: 182mm; table-layout: fixed; margin: 1mm 0 }
h2 { margin: 0 }
tbody { break-inside: avoid }
td { height: 10mm; padding: 0 .6mm; text-align: center }
td.name { font-size: 14pt; font-weight: bold }
td.at, td.mark { font-size: 7.5pt; line-height: 1.15 }
td.at { text-align: right }
td.box { vertical-align: top; text-align: left; font-size: 6.5pt; line-height: 1.3; color: #444 }
td.none { background: #ccc }
tbody.stop td { border-top-width: .6mm }
tbody.stop tr + tr td { border-top-width: .25mm }
th { font-size: 8pt; padding: .3mm }
.c1 { width: 11mm } .c2 { width: 18mm } .cs { width: 14mm }
@media print { .wide table { min-width: 0 } }
`

const sheetBody = `<h1>{{.Title}}</h1>
{{range .Walk}}<p>{{.}}</p>
{{end}}{{.Picture}}{{range .Count}}<p>{{.}}</p>
{{end}}{{range .Cites}}<p class="small"><cite>{{.}}.</cite></p>
{{end}}{{range .Sides}}<section class="side">
<h2>{{$.Data.Field}}: {{.Title}}</h2>
<div class="head"><span>{{call $.Data.Say "Date"}}</span><span>{{call $.Data.Say "Observer"}}</span><span>{{call $.Data.Say "Pest"}} {{$.Data.Pest}}</span><span>{{call $.Data.Say "Growth stage"}} {{$.Data.Stage}}</span></div>
<div class="wide" tabindex="0" role="group" aria-label="{{.Title}}">
<table><thead><tr><th scope="col" class="c1">{{call $.Data.Say "stop"}}</th><th scope="col" class="c2">{{call $.Data.Say "latitude, longitude, walk to it"}}</th><th scope="colgroup" colspan="{{$.Data.Across}}">{{$.Data.Boxes.For}}</th>{{range $.Data.Sums}}<th scope="col" class="cs">{{call $.Data.Say .Title}}{{with .Filled}} ({{.}}){{end}}</th>{{end}}<th scope="col">{{call $.Data.Say "notes"}}</th></tr></thead>
{{range .Stops}}{{$stop := .}}<tbody class="stop">
{{range $i, $line := $.Data.Boxes.Lines}}<tr>{{if not $i}}<td class="name" rowspan="{{$.Data.Lines}}">{{$stop.Name}}</td><td class="at" rowspan="{{$.Data.Lines}}">{{$stop.Latitude}}<br>{{$stop.Longitude}}<br>{{$stop.Leg}}</td>{{end}}{{range $line}}<td class="box{{if and (not .Label) (gt $.Data.Across 1)}} none{{end}}">{{.Label}}</td>{{end}}{{if not $i}}{{range $.Data.Sums}}<td rowspan="{{$.Data.Lines}}"></td>{{end}}<td class="mark" rowspan="{{$.Data.Lines}}">{{$stop.Mark}}</td>{{end}}</tr>
{{end}}</tbody>
{{end}}</table>
</div>
</section>
{{end}}`
