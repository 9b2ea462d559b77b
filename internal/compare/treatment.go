package compare

import (
	"fmt"
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/assess"
	"github.com/geocoris/geocoris/internal/change"
	"github.com/geocoris/geocoris/internal/paired"
	"github.com/geocoris/geocoris/internal/planar"
)

// A TreatmentResult is what the visits say of one treatment in one field.
type TreatmentResult struct {
	Treatment
	Before, After int // visits, −1 where there is none
	Inside        int // stops inside after
	Outside       int
	Efficacy      *paired.Efficacy // nil where it cannot be told
	Coverage      *change.Coverage // of the treat zone before; nil where there was no visit before
	Reentry       string
	Why           string // efficacy cannot be told
}

// treatments looks at every treatment that touches the field.
func (r *Result) treatments(f *Field) error {
	for _, t := range r.Settings.Treatments {
		ground, err := union(f.Frame.ForwardPolygons(t.Ground))
		if err != nil {
			return fmt.Errorf("treatment of %s: %w", t.Date, err)
		}
		day, err := dayNumber(t.Date)
		if err != nil {
			return err
		}
		result := TreatmentResult{Treatment: t, Before: -1, After: -1, Reentry: reentry(t)}
		for i, v := range f.Visits {
			if v.Grid.Day <= day { // counts of the day itself come before the sprayer
				result.Before = i
			} else if result.After < 0 {
				result.After = i
			}
		}
		covered := f.Visits[max(0, result.Before)].Grid.Map
		c, err := change.Cover(f.XY, covered, ground)
		if err != nil {
			return err
		}
		if c.Treated == 0 {
			continue // another field's
		}
		if result.Before >= 0 {
			result.Coverage = &c
		}
		r.worked(f, &result, ground)
		f.Treatments = append(f.Treatments, result)
	}
	return nil
}

// union is the ground of polygons that may overlap, as two passes of a sprayer do.
func union(polygons orb.MultiPolygon) (orb.MultiPolygon, error) {
	var parts []orb.MultiPolygon
	for _, p := range polygons {
		part, err := planar.Mend(orb.MultiPolygon{p})
		if err != nil {
			return nil, err
		}
		parts = append(parts, part)
	}
	a, err := planar.Arrange(planar.RingLines(parts...))
	if err != nil {
		return nil, err
	}
	covered := make([]int, len(a.Faces))
	for i, face := range a.Faces {
		if slices.ContainsFunc(parts, func(part orb.MultiPolygon) bool { return geo.Contains(part, face.Point) }) {
			covered[i] = 1
		}
	}
	return a.Dissolve(covered).Polygons(1), nil
}

// reentry reminds of the interval; it presets none.
func reentry(t Treatment) string {
	if t.ReentryHours > 0 {
		return fmt.Sprintf("re-entry: not before %g hours after the treatment of %s, as you read it off the label", t.ReentryHours, t.Date)
	}
	return "re-entry: read the interval off the label before anybody goes in to count"
}

func (r *Result) worked(f *Field, t *TreatmentResult, ground orb.MultiPolygon) {
	if t.After < 0 {
		t.Why = "no visit after the treatment yet"
		return
	}
	after := f.Visits[t.After]
	for _, s := range after.Assess.Stops {
		if geo.Contains(ground, s.XY) {
			t.Inside++
		} else {
			t.Outside++
		}
	}
	if t.Inside == 0 || t.Outside == 0 {
		t.Why = "no stops on one side: leave a strip untreated, or count outside too"
		return
	}
	g := r.groups(f, t, ground)
	e, err := paired.Worked(g, r.Settings.Chance)
	if err != nil {
		t.Why = strings.TrimPrefix(err.Error(), "efficacy cannot be told: ")
		return
	}
	t.Efficacy = &e
}

// groups parts the stops by treated ground; matched places where there are enough
// on both sides.
func (r *Result) groups(f *Field, t *TreatmentResult, ground orb.MultiPolygon) (g paired.Groups) {
	const fewestMatched = 3 // the fewest that tell a spread
	after := f.Visits[t.After]
	if t.Before >= 0 {
		before := f.Visits[t.Before]
		for _, p := range r.match(before, after) {
			b, a := before.Assess.Stops[p.A], after.Assess.Stops[p.B]
			switch in := geo.Contains(ground, a.XY); {
			case in != geo.Contains(ground, b.XY): // across the edge: neither
			case in:
				g.TreatedBefore, g.TreatedAfter = append(g.TreatedBefore, b.Value), append(g.TreatedAfter, a.Value)
			default:
				g.CheckBefore, g.CheckAfter = append(g.CheckBefore, b.Value), append(g.CheckAfter, a.Value)
			}
		}
		if len(g.TreatedBefore) >= fewestMatched && len(g.CheckBefore) >= fewestMatched {
			g.Matched = true
			return g
		}
		g = paired.Groups{}
		g.TreatedBefore, g.CheckBefore = sides(before.Assess.Stops, ground)
	}
	g.TreatedAfter, g.CheckAfter = sides(after.Assess.Stops, ground)
	return g
}

func sides(stops []assess.Stop, ground orb.MultiPolygon) (in, out []float64) {
	for _, s := range stops {
		if geo.Contains(ground, s.XY) {
			in = append(in, s.Value)
		} else {
			out = append(out, s.Value)
		}
	}
	return in, out
}
