//go:build !small

package fieldwork

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"text/tabwriter"

	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/scouting/sampling"
)

// Card is the pocket card of a plan's stop lines.
type Card struct {
	Tally
	Set     sampling.Settings
	PerStop float64 // units at a stop
}

// cardRow is a line of the card in words: all totals are of all stops so far.
type cardRow struct{ Stops, Units, Under, GoOn, Over string }

// never stands where no total ends the walk.
const never = "–"

func (c Card) rows() (rows []cardRow) {
	for _, l := range sampling.Card(c.Plan.Rule, c.Set, c.PerStop) {
		r := cardRow{fmt.Sprint(l.Stops), c.things(l.Units), never, never, never}
		from, to := "0", ""
		if l.UnderNow {
			r.Under, from = figures.Trimmed(l.Under, 0), figures.Trimmed(l.Under+1, 0)
		}
		if l.OverNow {
			r.Over, to = figures.Trimmed(l.Over, 0), figures.Trimmed(l.Over-1, 0)
		}
		switch {
		case !l.OverNow:
			r.GoOn = c.Said.Say("%s or more", from)
		case l.Over > max(l.Under, -1)+1:
			r.GoOn = between(from, to)
		}
		rows = append(rows, r)
	}
	return rows
}

func between(from, to string) string {
	if from == to {
		return from
	}
	return from + "–" + to
}

func (c Card) heads() [5]string {
	above := c.Said.Text("STOP: over, if this or more")
	if c.Plan.Rule.Above() == sampling.Enough {
		above = c.Said.Text("STOP: enough, if this or more")
	}
	return [5]string{c.Said.Text("stops"), c.plural(), c.Said.Text("STOP: under, if this or fewer"), c.Said.Text("go on, if"), above}
}

// how says how the card is used, a sentence each.
func (c Card) how() []string {
	counted := c.Said.Text("Count every insect, young and wingless ones too.")
	if c.Share() {
		counted = c.Said.Say("Count %s.", c.units())
	}
	lines := []string{
		c.Said.Say("%s Look at %s %s at each stop.", counted, c.things(c.PerStop), c.plural()),
		c.Said.Text("Add up over all stops so far. Find the row with your number of stops."),
	}
	if most := c.rows(); c.Plan.Rule.Above() != sampling.Enough {
		lines = append(lines, c.Said.Say("No answer after %s stops: take it as near the threshold.", most[len(most)-1].Stops))
	}
	return lines
}

// cautions are what limits the card.
func (c Card) cautions() []string {
	return []string{
		c.Said.Text("Spread the stops over the field, none within 25 ft (7.6 m) of the edge. Cross the field before you stop."),
		c.Said.Text("Where stops differ much, go on for longer. The tally on a computer says for how long."),
		c.Said.Text("Thresholds differ by region and year. Your local extension service and the label come first."),
	}
}

// WriteText writes the card as plain text.
func (c Card) WriteText(w io.Writer) error {
	var b strings.Builder
	fmt.Fprintf(&b, "%s\n%s\n\n", c.Head(), strings.Join(c.how(), "\n"))
	t := tabwriter.NewWriter(&b, 0, 0, 2, ' ', tabwriter.AlignRight)
	h := c.heads()
	fmt.Fprintf(t, "%s\t%s\t%s\t%s\t%s\t\n", h[0], h[1], h[2], h[3], h[4])
	for _, r := range c.rows() {
		fmt.Fprintf(t, "%s\t%s\t%s\t%s\t%s\t\n", r.Stops, r.Units, r.Under, r.GoOn, r.Over)
	}
	if err := t.Flush(); err != nil {
		return err
	}
	fmt.Fprintf(&b, "\n%s\n", strings.Join(c.cautions(), "\n"))
	_, err := io.WriteString(w, b.String())
	return err
}

// WriteHTML writes the card as a page to print and fold.
func (c Card) WriteHTML(w io.Writer) error {
	return paper{title: c.Said.Text("Have I counted enough?"), said: c.Said, style: cardStyle, body: cardBody}.write(w, map[string]any{
		"Plan": c.title(), "Source": c.Plan.Source, "Heads": c.heads(), "Sides": sides(c.rows()),
		"How": c.how(), "Errors": c.errors(), "Cautions": c.cautions(), "Asked": c.Said.Text("Have I counted enough?"), "From": c.Said.Text("Source"),
	})
}

// sides are the rows of the front of a sheet and of its back, of like length.
func sides(rows []cardRow) [][]cardRow {
	const most = 20
	n := (len(rows) + most - 1) / most
	return slices.Collect(slices.Chunk(rows, max(1, (len(rows)+n-1)/max(n, 1))))
}

// Figures are large enough to be read at arm's length: 20 stops are the front of a
// sheet, the others its back.
const cardStyle = `
table { table-layout: fixed }
table + table { break-before: page }
td, th { text-align: center; padding: 0 1mm }
th { font-size: 10.5pt }
td { font-size: 16pt; line-height: 1; height: 9.2mm }
td.stop { font-size: 22pt; font-weight: bold }
tbody tr:nth-child(even) td { background: #eee }
.small { font-size: 9pt }
@media (max-width: 640px) { td { font-size: 11pt } td.stop { font-size: 15pt } th { font-size: 8pt; padding: 0 } body { padding: 2mm } }
`

const cardBody = `<h1>{{.Asked}}</h1>
<p>{{.Plan}}</p>
{{range .How}}<p><b>{{.}}</b></p>
{{end}}{{range .Sides}}<table><thead><tr>{{range $.Data.Heads}}<th scope="col">{{.}}</th>{{end}}</tr></thead>
<tbody>
{{range .}}<tr><td>{{.Stops}}</td><td>{{.Units}}</td><td class="stop">{{.Under}}</td><td>{{.GoOn}}</td><td class="stop">{{.Over}}</td></tr>
{{end}}</tbody></table>
{{end}}<div class="small">
{{range .Cautions}}<p>{{.}}</p>
{{end}}<p>{{.Errors}}</p>
<p>{{.From}}: <cite>{{.Source}}.</cite></p>
</div>
`
