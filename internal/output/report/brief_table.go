package report

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/mapping/verdict"
	"github.com/geocoris/geocoris/internal/sorted"
)

// A row is a field in the table of many.
type row struct {
	field  *assess.Field
	v      verdict.Verdict
	judged bool
}

func rowOf(f *assess.Field, of map[string]*verdict.Verdict) row {
	if v := of[f.Name]; v != nil {
		return row{f, *v, true}
	}
	return row{field: f}
}

// table puts all fields on paper, the worst first, and returns those that need something
// done, in that order.
func (b Brief) table(p *paper) (act []*assess.Field) {
	var rows []row
	of := byField(b.Verdicts)
	for _, f := range b.Result.Fields {
		rows = append(rows, rowOf(f, of))
	}
	sorted.Stably(rows, worse)
	cells := [][]string{{b.Units.Text("field"), b.Units.Text("answer"), b.Units.AreaUnit(), b.Units.Text("look again"), b.Units.Text("stops")}}
	for _, r := range rows {
		cells = append(cells, b.cells(r))
		if r.needs() {
			act = append(act, r.field)
		}
	}
	fit(cells, p.width)
	for i, line := range columns(cells) {
		tone := Quiet
		if i > 0 && rows[i-1].judged {
			tone = ToneOf(rows[i-1].v.Kind)
		}
		p.lines = append(p.lines, Line{line, tone})
	}
	return act
}

// mostHot is how many fields the screen gives a reason for that are left though a stop is hot.
const mostHot = 3

// leftHot says under the table why fields are left in which a stop is at the spray level: its
// dark spot on the map, and the red ground of other screens, are asked about.
func (b Brief) leftHot(p *paper) {
	var lines []string
	for _, f := range b.Result.Fields {
		if v, judged := b.verdictOf(f.Name); judged && ToneOf(v.Kind) == Leave && v.Over > 0 && !v.Stale {
			lines = append(lines, f.Name+": "+PlainWhy(v, b.Units))
		}
	}
	if n := len(lines) - mostHot; n > 0 {
		lines = append(lines[:mostHot], b.Units.Say("and so for %d more", n))
	}
	p.asides(lines)
}

// needs reports whether something is to be done today.
func (r row) needs() bool {
	return r.judged && (ToneOf(r.v.Kind) != Leave || r.v.Stale)
}

// worse orders fields by their answers, those without one last.
func worse(a, b row) int { return verdict.WorstFirst(a.answer(), b.answer()) }

// answer is nil where nobody judged.
func (r row) answer() *verdict.Verdict {
	if !r.judged {
		return nil
	}
	return &r.v
}

// cells are those of a field; the area is that to be sprayed.
func (b Brief) cells(r row) []string {
	if !r.judged {
		return []string{r.field.Name, b.Units.Text("not scouted"), "", "", fmt.Sprint(len(r.field.Stops))}
	}
	area := ""
	switch r.v.Kind {
	case verdict.TreatWhole:
		area = b.Units.Bare(r.v.Area)
	case verdict.SpotSpray:
		area = b.Units.Bare(r.v.TreatArea)
	}
	return []string{r.field.Name, ShortAnswer(r.v.Kind, b.Units), area, shortLook(r.v, b.Units), shortUsed(r.v, b.Units)}
}

// ShortAnswer is what to do in a word or few, for a table or a small map.
func ShortAnswer(k verdict.Kind, u figures.Units) string {
	switch k {
	case verdict.TreatWhole:
		return u.Text("spray all")
	case verdict.SpotSpray:
		return u.Text("spray the red")
	case verdict.LookAgain:
		return u.Text("do not spray yet")
	case verdict.NoSpray:
		return u.Text("do not spray")
	}
	return u.Text("not decided")
}

func shortLook(v verdict.Verdict, u figures.Units) string {
	switch {
	case v.Stale:
		return u.Text("today")
	case v.On != "":
		return u.ShortDay(v.On)
	}
	return u.Counted(int(v.Days), "day")
}

func shortUsed(v verdict.Verdict, u figures.Units) string {
	all := allStops(v, u)
	if all == "" {
		return u.Number(v.Stats.Stops)
	}
	return u.Say("%d of %s", v.Stats.Stops, all)
}

const between = "  " // columns

// fit cuts names so that the rows of a table fit a width.
func fit(cells [][]string, width int) {
	over := utf8.RuneCountInString(columns(cells)[0]) - width
	for _, line := range columns(cells) {
		over = max(over, utf8.RuneCountInString(line)-width)
	}
	if over <= 0 {
		return
	}
	const least = 6
	most := max(least, widths(cells)[0]-over)
	for _, c := range cells {
		if name := []rune(c[0]); len(name) > most {
			c[0] = string(name[:most-1]) + "…"
		}
	}
}

func widths(cells [][]string) []int {
	wide := make([]int, len(cells[0]))
	for _, c := range cells {
		for i, text := range c {
			wide[i] = max(wide[i], utf8.RuneCountInString(text))
		}
	}
	return wide
}

// columns sets cells under one another: words to the left, numbers to the right.
func columns(cells [][]string) (lines []string) {
	wide := widths(cells)
	for _, c := range cells {
		var b strings.Builder
		for i, text := range c {
			pad := strings.Repeat(" ", wide[i]-utf8.RuneCountInString(text))
			if i > 0 {
				b.WriteString(between)
			}
			if i == 2 || i == len(c)-1 {
				b.WriteString(pad + text)
			} else {
				b.WriteString(text + pad)
			}
		}
		lines = append(lines, strings.TrimRight(b.String(), " "))
	}
	return lines
}
