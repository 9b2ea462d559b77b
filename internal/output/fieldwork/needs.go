package fieldwork

import (
	"fmt"
	"strconv"

	"github.com/geocoris/geocoris/internal/language/vocabulary"
	"github.com/geocoris/geocoris/internal/mapping/rules"
)

// columns are those to be filled in at a stop, how many rows a stop has, and the growth
// stage that is known.
func (p Plan) columns() (columns []rules.Column, each int, stage string) {
	if p.Needs == nil {
		n := strconv.Itoa(p.leaves())
		return []rules.Column{{Header: "count", Title: "count"}, {Header: "leaves", Title: "leaves", Filled: n}}, 1, ""
	}
	return p.Needs.Columns, p.Needs.Rows, p.Needs.Level.Stage
}

// ruled says which rule the table is for and how it is counted; nothing without one.
func (p Plan) ruled() (lines []string) {
	if p.Needs == nil {
		return nil
	}
	l := p.Needs.Level
	if p.Said.Language() == vocabulary.English {
		lines = append(lines, fmt.Sprintf("the table is for %s; %s", l.Source(), rules.Caution), p.Needs.How)
	} else {
		counting := RuleCounting(*p.Needs, p.Said)
		if l.Rule.Sampling.Which != "" {
			counting = p.Said.Say("Which leaves: %s.", counting)
		}
		lines = append(lines,
			p.Said.Say("the table is for %s, rule %s (%s); %s", RuleLevel(l.Rule, l.Band, p.Said), l.Rule.Name, l.Rule.Cited(), p.Said.Text(rules.Caution)),
			p.Said.Say("At each stop: %s.", p.boxes().For)+" "+counting)
	}
	if n := len(p.Stops); n < p.Needs.Places {
		lines = append(lines, p.Said.Say("%d stops are fewer than the %d places that the source asks for", n, p.Needs.Places))
	}
	return lines
}
