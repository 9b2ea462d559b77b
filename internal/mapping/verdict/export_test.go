package verdict

import (
	"slices"

	"github.com/geocoris/geocoris/internal/scouting/layout"
)

// InPart has the stops of figures span so little of their field, 0 to 1.
func (g *Figures) InPart(span float64) {
	g.layout = layout.Layout{Stops: g.Stats.Stops, Span: span}
}

// Partial reports that the stops stand in a part of the field.
func (g Figures) Partial() bool { return g.partial() }

// Lines are the names of the table's lines, in their order.
func Lines() (names []string) {
	for _, l := range table() {
		names = append(names, l.name)
	}
	return names
}

// DecideWithout decides as if the table lacked a line.
func DecideWithout(name string, f Figures, s Settings) Verdict {
	return decide(slices.DeleteFunc(table(), func(l line) bool { return l.name == name }), f, s)
}
