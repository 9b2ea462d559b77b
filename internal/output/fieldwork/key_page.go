//go:build !small

package fieldwork

import (
	"io"
	"strings"

	"github.com/geocoris/geocoris/internal/scouting/key"
)

// KeyPage is the key to aphids on sorghum as a table, to print and take along.
type KeyPage struct{}

// A keyRow is a mark with the answers of each species.
type keyRow struct {
	Question string
	Cells    []keyCell
}

// A keyCell is what a species shows; Alone tells it from all others.
type keyCell struct {
	Answer string
	Alone  bool
}

// WriteHTML writes the page.
func (KeyPage) WriteHTML(w io.Writer) error {
	var decide, weigh []keyRow
	for _, m := range key.Marks() {
		if row := rowOf(m); m.Decides {
			decide = append(decide, row)
		} else {
			weigh = append(weigh, row)
		}
	}
	return paper{title: "Which aphid is it?", style: keyStyle, body: keyBody}.write(w, map[string]any{
		"Species": key.Table(), "Decide": decide, "Weigh": weigh, "Apart": apart,
	})
}

func rowOf(m key.Mark) keyRow {
	row := keyRow{Question: m.Question}
	shown := map[string]int{}
	var answers []string
	for _, s := range key.Table() {
		a := answersOf(m, s)
		answers = append(answers, a)
		shown[a]++
	}
	for _, a := range answers {
		row.Cells = append(row.Cells, keyCell{a, a != anyAnswer && shown[a] == 1 && shown[anyAnswer] == 0})
	}
	return row
}

const anyAnswer = "any"

// answersOf are those that a species shows, in full where the mark tells.
func answersOf(m key.Mark, s key.Species) string {
	var said []string
	for _, word := range s.Shows(m.Name) {
		said = append(said, m.Says(word))
	}
	if len(said) == 0 {
		return anyAnswer
	}
	return strings.Join(said, " or ")
}

const keyStyle = `
th, td { text-align: left; padding: 1mm 1.2mm; font-size: 10.5pt; line-height: 1.2 }
td.alone { font-weight: bold; background: #e4e4e4; border-width: .6mm }
.wide table { min-width: 165mm }
i { font-weight: normal; font-size: 8.5pt }
tbody th { background: #fff; font-weight: normal; width: 26% }
`

const keyBody = `<h1>Which aphid is it? Aphids on sorghum</h1>
<p>Look at a wingless adult through a hand lens. Winged and young ones lack or hide marks. Go down the rows and strike out what does not fit.</p>
<p>A mark in bold is of that species alone.</p>
<div class="wide" tabindex="0" role="group" aria-label="marks of each species">
<table><thead><tr><th scope="col">look at</th>{{range .Species}}<th scope="col">{{.Name}}<br><i>{{.Latin}}</i></th>{{end}}</tr></thead>
<tbody>
{{range .Decide}}<tr><th scope="row">{{.Question}}</th>{{range .Cells}}<td{{if .Alone}} class="alone"{{end}}>{{.Answer}}</td>{{end}}</tr>
{{end}}</tbody></table>
<table><thead><tr><th scope="col">these help, but never decide</th>{{range .Species}}<th scope="col">{{.Name}}</th>{{end}}</tr></thead>
<tbody>
{{range .Weigh}}<tr><th scope="row">{{.Question}}</th>{{range .Cells}}<td>{{.Answer}}</td>{{end}}</tr>
{{end}}</tbody></table>
</div>
<p>{{.Apart}} Where none fits, it may be another species. Ask your local extension service.</p>
<p>Sources: <cite>Bowling et al. 2016; keys of Oklahoma State and Louisiana State extension.</cite></p>
`
