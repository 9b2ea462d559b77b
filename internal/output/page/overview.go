package page

import (
	"cmp"
	"fmt"
	"html/template"
	"slices"

	"github.com/geocoris/geocoris/internal/geometry/zones"
	"github.com/geocoris/geocoris/internal/mapping/verdict"
	"github.com/geocoris/geocoris/internal/output/scene"
)

// fewFields are so few that the worst of them stands open.
const fewFields = 3

// worstFirst is the order of fields in which somebody should look at them: by the
// verdict, then by how much of the field is treat ground, then by the mean.
func worstFirst(fields []Field) []Field {
	out := slices.Clone(fields)
	slices.SortStableFunc(out, func(a, b Field) int {
		switch ka, kb := a.kind(), b.kind(); {
		case ka.Graver(kb):
			return -1
		case kb.Graver(ka):
			return 1
		}
		return cmp.Or(cmp.Compare(b.treatShare(), a.treatShare()), cmp.Compare(b.Field.Mean, a.Field.Mean))
	})
	return out
}

func (f Field) kind() verdict.Kind {
	if f.Verdict == nil {
		return verdict.None
	}
	return f.Verdict.Kind
}

// treatShare is 0 where no zones are drawn.
func (f Field) treatShare() float64 {
	if !f.Zoned() {
		return 0
	}
	return f.Field.Map.Share(zones.Treat)
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
