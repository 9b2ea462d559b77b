//go:build !small

package fieldwork

import (
	"fmt"
	"io"
	"strings"

	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/language/vocabulary"
	"github.com/geocoris/geocoris/internal/mapping/rules"
)

// RulesPage is threshold rules by growth stage, to print and take along.
type RulesPage struct{ Rules []rules.Rule }

// A pestTable is what the rules say of a pest on a crop.
type pestTable struct {
	Pest string
	Rows []levelRow
}

// A levelRow is the level of a rule at a stage; First is how many rows share the stage
// from here on, 0 below the first of them.
type levelRow struct {
	Stage, Level, Unit string
	Rule, First        int
}

// A ruleNote is where a rule holds, how it is counted and who says so.
type ruleNote struct {
	Number                      int
	Name, Region, Count, Source string
}

const anyStage = "any stage"

// WriteHTML writes the page.
func (p RulesPage) WriteHTML(w io.Writer) error {
	return paper{title: "When to spray: thresholds", style: rulesStyle, body: rulesBody}.write(w, map[string]any{"Pests": p.pests(), "Notes": p.notes()})
}

// pests are the pests on their crops, in the order of the rules.
func (p RulesPage) pests() (tables []pestTable) {
	at := map[string]int{}
	for _, r := range p.Rules {
		name := r.Pest
		if r.Crop != "" {
			name += " on " + r.Crop
		}
		if _, known := at[name]; !known {
			at[name] = len(tables)
			tables = append(tables, pestTable{Pest: name})
		}
	}
	for name, i := range at {
		tables[i].Rows = p.rows(func(r rules.Rule) bool { return r.Pest == name || r.Pest+" on "+r.Crop == name })
	}
	return tables
}

// rows are the levels of some rules, by stage in the order in which they are named.
func (p RulesPage) rows(of func(rules.Rule) bool) (rows []levelRow) {
	var stages []string
	by := map[string][]levelRow{}
	for i, r := range p.Rules {
		if !of(r) {
			continue
		}
		for _, b := range r.Bands {
			named := b.Stages
			if len(named) == 0 {
				named = []string{anyStage}
			}
			for _, s := range named {
				if len(by[s]) == 0 {
					stages = append(stages, s)
				}
				by[s] = append(by[s], levelRow{Stage: s, Level: r.StatedAs(b), Unit: rules.Plural(r.Unit), Rule: i + 1})
			}
		}
	}
	for _, s := range stages {
		by[s][0].First = len(by[s])
		rows = append(rows, by[s]...)
	}
	return rows
}

func (p RulesPage) notes() (notes []ruleNote) {
	counted := map[string]int{}
	for i, r := range p.Rules {
		n := ruleNote{Number: i + 1, Name: r.Name, Region: r.Region, Count: countSentences(r), Source: r.Cited()}
		switch before, known := counted[n.Count]; {
		case n.Count == "":
		case known:
			n.Count = fmt.Sprintf("Count as for rule %d.", before)
		default:
			counted[n.Count] = n.Number
		}
		notes = append(notes, n)
	}
	return notes
}

// countSentences say how the counts for a rule are taken; "" where no source tells.
func countSentences(r rules.Rule) string {
	s := r.Sampling
	of := vocabulary.UnitOf(r.Unit)
	unit := rules.Plural(of.Thing)
	if r.Unit == "leaf" && s.Parts > 0 {
		unit = "plants"
	}
	var said []string
	if s.Places > 0 {
		said = append(said, fmt.Sprintf("Stop at %d places or more.", s.Places))
	}
	switch {
	case s.Units > 0 && s.Parts > 0:
		said = append(said, fmt.Sprintf("At each, look at %d leaves of %d %s.", s.Parts, s.Units, unit))
	case s.Units > 0 && of.Thing == "sweep":
		said = append(said, fmt.Sprintf("At each, make %d sweeps.", of.Size*s.Units))
	case s.Units > 0:
		said = append(said, fmt.Sprintf("At each, look at %d %s.", of.Size*s.Units, unit))
	}
	if s.Total > 0 {
		said = append(said, fmt.Sprintf("Look at %d %s on %s acres.", of.Size*s.Total, unit, figures.Short(s.Acres)))
	}
	if s.Which != "" {
		said = append(said, "Which leaves: "+s.Which+".")
	}
	return strings.Join(said, " ")
}

// Few pests are printed in large letters; all of them in small ones, on two sheets.
const rulesStyle = `
table { margin: 1mm 0 2mm }
th, td { padding: .8mm 1mm; text-align: left; font-size: 10pt; line-height: 1.2 }
th.stage, td.n { font-weight: bold }
th.stage { background: #fff; width: 24% }
td.n { text-align: center; width: 10% }
td.unit { width: 18% }
section { break-inside: avoid }
ol { margin: 0; padding: 0; list-style: none }
li { break-inside: avoid; margin-bottom: 1mm; font-size: 9.5pt }
@media print {
  .many { columns: 2; column-gap: 6mm }
  .many h2 { margin: 1mm 0 0; font-size: 9.5pt }
  .many th, .many td { font-size: 8pt; padding: .25mm 1mm; line-height: 1.15 }
  .many li { font-size: 8pt; line-height: 1.15; margin-bottom: .5mm }
}
`

const rulesBody = `<h1>When to spray: thresholds by growth stage</h1>
<p>Thresholds differ by region and year. Your local extension service and the label come first. The number in the last column is that of the rule below.</p>
<div{{if gt (len .Pests) 3}} class="many"{{end}}>
{{range .Pests}}<section>
<h2>{{.Pest}}</h2>
<table><thead><tr><th scope="col">growth stage</th><th scope="col">spray at</th><th scope="col">count on</th><th scope="col">rule</th></tr></thead>
<tbody>
{{range .Rows}}<tr>{{if .First}}<th scope="row" class="stage" rowspan="{{.First}}">{{.Stage}}</th>{{end}}<td>{{.Level}}</td><td class="unit">{{.Unit}}</td><td class="n">{{.Rule}}</td></tr>
{{end}}</tbody></table>
</section>
{{end}}</div>
<h2>The rules, what to count, and who says so</h2>
<ol{{if gt (len .Pests) 3}} class="many"{{end}}>
{{range .Notes}}<li><b>{{.Number}} {{.Name}}</b>{{with .Region}} <i>({{.}})</i>{{end}}. {{.Count}} <cite>{{.Source}}.</cite></li>
{{end}}</ol>
`
