package fieldwork

import (
	"fmt"
	"slices"

	"github.com/geocoris/geocoris/internal/language/vocabulary"
	"github.com/geocoris/geocoris/internal/mapping/rules"
)

const (
	boxesAcross = 10 // boxes of a line, wide enough to write in
	boxesMost   = 30 // beyond, a stop has one blank to keep a tally in
	linesAPage  = 20 // lines of boxes that a page of A4 or letter has room for
)

// A writingBox is a box for one leaf or plant; the zero value is no box.
type writingBox struct{ Label string }

// leafBoxes are the boxes of a stop in lines of like length, and what they are for.
type leafBoxes struct {
	For   string
	Lines [][]writingBox
}

func (b leafBoxes) across() int {
	if len(b.Lines) == 0 {
		return 1
	}
	return len(b.Lines[0])
}

// boxes are those for each leaf that the rule wants, or for the leaves of the plan.
func (p Plan) boxes() leafBoxes {
	units, parts, unit := p.leaves(), 1, "leaf"
	if n := p.Needs; n != nil {
		units, parts, unit = n.Units, n.Parts, n.Level.Rule.Unit
		if n.Level.Band.Sign != "" { // a plant shows it or not
			parts = 1
		}
	}
	return p.boxesOf(units, parts, unit)
}

// lookedAt is how many things are looked at, of units: 10 leaves, 20 sweeps.
func (p Plan) lookedAt(units int, unit string) string {
	u := vocabulary.UnitOf(unit)
	return fmt.Sprintf("%d %s", units*u.Size, p.Said.Language().Things(2, u.Thing))
}

func (p Plan) boxesOf(units, parts int, unit string) leafBoxes {
	if n := units * parts; n > boxesMost || n < 1 {
		return leafBoxes{For: p.lookedAt(n, unit), Lines: [][]writingBox{{{}}}}
	}
	b := leafBoxes{For: p.lookedAt(units, unit)}
	if parts > 1 {
		b.For = p.Said.Say("%d plants, %d leaves of each", units, parts)
	}
	var all []writingBox
	for u := range units {
		for k := range parts {
			label := fmt.Sprint(u + 1)
			if parts > 1 {
				label += string(rune('a' + k))
			}
			all = append(all, writingBox{label})
		}
	}
	across := min(len(all), max(parts, boxesAcross-boxesAcross%parts))
	for line := range slices.Chunk(all, across) {
		b.Lines = append(b.Lines, append(slices.Clone(line), make([]writingBox, across-len(line))...))
	}
	return b
}

// sums are the columns that are filled in once for a stop.
func (p Plan) sums() []rules.Column {
	all, rows, _ := p.columns()
	if rows > 1 { // each leaf by itself: the boxes are all
		return nil
	}
	return slices.DeleteFunc(slices.Clone(all), func(c rules.Column) bool { return c.Title == "" })
}
