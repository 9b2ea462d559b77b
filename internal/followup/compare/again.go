package compare

import (
	"slices"

	"github.com/geocoris/geocoris/internal/followup/change"
	"github.com/geocoris/geocoris/internal/mapping/assess"
)

// Again is the ground that the map of the last visit has to be treated as it lies in ground
// that was treated not long before, areas in m²: who would treat all of it treats some
// twice.
type Again struct {
	Dates   []string // of the treatments, in their order, each once
	Red     float64  // treat ground in treated ground
	Rest    float64  // treat ground elsewhere
	Treated float64  // of the field
	Counted bool     // the last visit came after all of them, with each stop in their ground
}

// again is nil where nothing of the field was treated in the 21 days before the last visit,
// or since.
func (f *Field) again() (*Again, error) {
	last := f.Visits[len(f.Visits)-1]
	var held []sprayed
	counted := true
	for _, s := range f.sprays {
		if s.before(last) || s.day >= s.seen(last) {
			held, counted = append(held, s), counted && s.counted(last)
		}
	}
	ground, err := groundsOf(held)
	if err != nil || ground == nil {
		return nil, err
	}
	c, err := change.Cover(f.XY, last.Grid.Map, ground)
	return &Again{Dates: datesOf(held), Red: c.Hit, Rest: c.Missed, Treated: c.Treated, Counted: counted}, err
}

// counted reports whether a visit came after a treatment, and no stop of it in that ground before.
func (s sprayed) counted(v *Visit) bool {
	return s.day < s.seen(v) && !slices.ContainsFunc(v.Assess.Stops, func(stop assess.Stop) bool {
		return stop.Date <= s.Date && s.holds(stop.XY)
	})
}
