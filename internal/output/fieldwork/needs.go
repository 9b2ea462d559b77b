package fieldwork

import (
	"fmt"
	"strconv"

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
	lines = append(lines, fmt.Sprintf("the table is for %s; %s", l.Source(), rules.Caution), p.Needs.How)
	if n := len(p.Stops); n < p.Needs.Places {
		lines = append(lines, fmt.Sprintf("%d stops are fewer than the %d places that the source asks for", n, p.Needs.Places))
	}
	return lines
}
