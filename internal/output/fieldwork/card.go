package fieldwork

import (
	"fmt"
	"html/template"
	"io"
	"strings"
	"text/tabwriter"

	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/rules"
	"github.com/geocoris/geocoris/internal/scouting/sampling"
)

// Card is the pocket card of a plan's stop lines.
type Card struct {
	Tally
	Set     sampling.Settings
	PerStop float64
}

const (
	cardCaution = "Thresholds differ by region and year: the local extension service and the label come first."
	cardStops   = "Equal stops, spread over the field, none within 25 ft (7.6 m) of the edge. Where stops differ much, count on: the program knows how far."
)

// cardRow is a line of the card in words.
type cardRow struct{ Stops, Units, Under, Over string }

func (c Card) rows() (rows []cardRow) {
	for _, l := range sampling.Card(c.Plan.Rule, c.Set, c.PerStop) {
		r := cardRow{fmt.Sprint(l.Stops), figures.Trimmed(l.Units, 1), "–", "–"}
		if l.UnderNow {
			r.Under = figures.Trimmed(l.Under, 0)
		}
		if l.OverNow {
			r.Over = figures.Trimmed(l.Over, 0)
		}
		rows = append(rows, r)
	}
	return rows
}

func (c Card) heads() [4]string {
	upper := "over at or above"
	if c.Plan.Rule.Above() == sampling.Enough {
		upper = "enough at or above"
	}
	return [4]string{"stops", rules.Plural(c.Plan.Unit), "under at or below", upper}
}

func (c Card) counted() string {
	if c.Share() {
		return "Count " + c.units() + "."
	}
	return "Count every insect, young and wingless ones too, and add up."
}

// WriteText writes the card as plain text.
func (c Card) WriteText(w io.Writer) error {
	var b strings.Builder
	b.WriteString(c.Head())
	fmt.Fprintf(&b, "\n%s %s at each stop. Between the lines: go on.\n\n", c.counted(), figures.Trimmed(c.PerStop, 1)+" "+rules.Plural(c.Plan.Unit))
	t := tabwriter.NewWriter(&b, 0, 0, 2, ' ', tabwriter.AlignRight)
	h := c.heads()
	fmt.Fprintf(t, "%s\t%s\t%s\t%s\t\n", h[0], h[1], h[2], h[3])
	for _, r := range c.rows() {
		fmt.Fprintf(t, "%s\t%s\t%s\t%s\t\n", r.Stops, r.Units, r.Under, r.Over)
	}
	if err := t.Flush(); err != nil {
		return err
	}
	fmt.Fprintf(&b, "\n%s\n%s\n", cardStops, cardCaution)
	_, err := io.WriteString(w, b.String())
	return err
}

// WriteHTML writes the card as a page to print and fold.
func (c Card) WriteHTML(w io.Writer) error {
	return cardPage().Execute(w, map[string]any{
		"Head": c.parameters(), "Source": c.Plan.Source, "Heads": c.heads(), "Rows": c.rows(),
		"How": fmt.Sprintf("%s %s %s at each stop. Between the lines: go on.", c.counted(), figures.Trimmed(c.PerStop, 1), rules.Plural(c.Plan.Unit)),
		"A":   cardStops, "B": cardCaution,
	})
}

func cardPage() *template.Template {
	return template.Must(template.New("card").Parse(`<!DOCTYPE html>
<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width"><title>Stop lines</title>
<style>
@page { size: A6; margin: 7mm }
body { font: 8pt/1.25 sans-serif; color: #000; background: #fff; max-width: 92mm; margin: auto }
h1 { font-size: 9.5pt; margin: 0 0 1mm }
p { margin: 0 0 1.2mm }
table { border-collapse: collapse; width: 100%; font-variant-numeric: tabular-nums }
th, td { border: .2mm solid #000; padding: 0 1mm; text-align: right; line-height: 1.12 }
th { font-weight: bold; text-align: center }
.small { font-size: 6.5pt }
</style></head><body>
<h1>{{.Head}}</h1>
<p>{{.How}}</p>
<table><thead><tr>{{range .Heads}}<th scope="col">{{.}}</th>{{end}}</tr></thead>
<tbody>
{{range .Rows}}<tr><td>{{.Stops}}</td><td>{{.Units}}</td><td>{{.Under}}</td><td>{{.Over}}</td></tr>
{{end}}</tbody></table>
<p class="small">{{.A}} {{.B}} Source: {{.Source}}.</p>
</body></html>
`))
}
