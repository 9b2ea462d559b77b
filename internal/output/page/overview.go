package page

import (
	"fmt"
	"html/template"
	"slices"

	"github.com/geocoris/geocoris/internal/mapping/verdict"
	"github.com/geocoris/geocoris/internal/output/scene"
)

// fewFields are so few that the worst of them stands open.
const fewFields = 3

// worstFirst is the order of fields in which somebody should look at them.
func worstFirst(fields []Field) []Field {
	out := slices.Clone(fields)
	slices.SortStableFunc(out, func(a, b Field) int { return verdict.WorstFirst(a.Verdict, b.Verdict) })
	return out
}

// smallView is the map of a row of the overview.
type smallView struct {
	ViewBox string
	Map     template.HTML
}

const smallWidth = 30 // mm, of a map in the overview, and its height

func small(s scene.Subject) (smallView, error) {
	m := scene.Small(s, smallWidth, smallWidth)
	body, err := scene.Fragment(m)
	return smallView{fmt.Sprintf("0 0 %g %g", m.Width, m.Height), template.HTML(body)}, err
}
