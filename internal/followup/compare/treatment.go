package compare

import (
	"errors"
	"fmt"
	"slices"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/followup/change"
	"github.com/geocoris/geocoris/internal/followup/paired"
	"github.com/geocoris/geocoris/internal/geometry/planar"
	"github.com/geocoris/geocoris/internal/mapping/assess"
)

// A TreatmentResult is what the visits say of one treatment in one field.
type TreatmentResult struct {
	Treatment
	XY            orb.MultiPolygon // its ground in the frame of the field, metres
	Before, After int              // visits, −1 where there is none
	Inside        int              // stops inside after
	Outside       int              // stops after that are a check: in no treated ground
	LeftOut       int              // stops after that lie outside it, in ground of other treatments
	// Efficacy is nil where it is not known. It rests on the check; without one
	// Why tells what can be known.
	Efficacy *paired.Efficacy
	Coverage *change.Coverage // of the treat zone before; nil where there was no visit before
	Why      *NoEfficacy      // efficacy; nil where it is known
}

// sprayed is a treatment that touches a field, with its ground in the field's frame.
type sprayed struct {
	Treatment
	day      float64
	ground   orb.MultiPolygon // metres
	index    *geo.Index       // of it: stops and nodes are asked for in passes by the thousand
	coverage change.Coverage  // of the treat zone before, of the first visit's where there is none
}

func (s sprayed) holds(p orb.Point) bool { return s.index.Contains(p) }

// seen is the last day on which a visit counted in the ground of a treatment, or at all where no
// stop lies there: what was sprayed that day or later, it did not see.
func (s sprayed) seen(v *Visit) float64 {
	last := ""
	for _, stop := range v.Assess.Stops {
		if stop.Date > last && s.holds(stop.XY) {
			last = stop.Date
		}
	}
	if day, err := dayNumber(last); err == nil {
		return day
	}
	return v.last
}

// visits are those before and after a treatment, −1 where there is none. Counts of the
// day itself come before it. A visit during which it was sprayed comes after it by its later stops
// in that ground, and before it where none is.
func (f *Field) visits(s sprayed) (before, after int) {
	before, after = -1, -1
	for i, v := range f.Visits {
		if s.seen(v) <= s.day {
			before, after = i, -1
		} else if after < 0 {
			after = i
		}
	}
	return before, after
}

// spray puts the treatments that touch the field into its frame.
func (r *Result) spray(f *Field) error {
	for _, t := range grouped(r.Settings.Treatments) { // a season holds them one by one
		ground, err := union(f.Frame.ForwardPolygons(t.Ground))
		if err != nil {
			return fmt.Errorf("treatment of %s: %w", t.Date, err)
		}
		s := sprayed{Treatment: t, ground: ground, index: geo.NewIndex(ground)}
		if s.day, err = dayNumber(t.Date); err != nil {
			return err
		}
		before, _ := f.visits(s)
		if s.coverage, err = change.Cover(f.XY, f.Visits[max(0, before)].Grid.Map, ground); err != nil {
			return err
		}
		if s.coverage.Treated > 0 { // or it is another field's
			f.sprays = append(f.sprays, s)
		}
	}
	return nil
}

// treatments looks at every treatment that touches the field.
func (r *Result) treatments(f *Field) {
	for i, t := range f.sprays {
		result := TreatmentResult{Treatment: t.Treatment, XY: t.ground}
		if result.Before, result.After = f.visits(t); result.Before >= 0 {
			result.Coverage = &f.sprays[i].coverage
		}
		r.worked(f, &result, sides{treated: t, others: f.between(result, f.sprays, i)})
		f.Treatments = append(f.Treatments, result)
	}
}

// between are the treatments besides one of all whose ground is no check for it:
// those between its two visits, or, without a visit before, all up to the one after.
func (f *Field) between(t TreatmentResult, all []sprayed, but int) (others []sprayed) {
	if t.After < 0 {
		return nil
	}
	after := f.Visits[t.After]
	for i, other := range all {
		apart := other.day >= other.seen(after)
		if t.Before >= 0 {
			apart = !other.between(f.Visits[t.Before], after)
		}
		if i != but && !apart {
			others = append(others, other)
		}
	}
	return others
}

// union is the ground of polygons that may overlap, as two passes of a sprayer do; a
// hole in one takes nothing from another.
func union(polygons orb.MultiPolygon) (orb.MultiPolygon, error) {
	var parts []orb.MultiPolygon
	for _, p := range polygons {
		part, err := planar.Ground(orb.MultiPolygon{p})
		if err != nil {
			return nil, err
		}
		parts = append(parts, part)
	}
	a, err := planar.Arrange(planar.RingLines(parts...))
	if err != nil {
		return nil, err
	}
	index, covered := geo.NewPolygonIndex(slices.Concat(parts...)), make([]int, len(a.Faces))
	for i, face := range a.Faces {
		if len(index.Containing(face.Point)) > 0 {
			covered[i] = 1
		}
	}
	return a.Dissolve(covered).Polygons(1), nil
}

// sides part the ground of a field by a treatment.
type sides struct {
	treated sprayed
	others  []sprayed // whose ground is no check
}

type side int

const (
	check   side = iota
	inside       // of the treatment
	leftOut      // outside it, in the ground of another
)

func (s sides) of(p orb.Point) side {
	if s.treated.holds(p) {
		return inside
	}
	if s.alsoTreated(p) {
		return leftOut
	}
	return check
}

func (s sides) alsoTreated(p orb.Point) bool {
	return slices.ContainsFunc(s.others, func(other sprayed) bool { return other.holds(p) })
}

// values of the stops inside and of those that are a check.
func (s sides) values(stops []assess.Stop) (in, out []float64) {
	for _, stop := range stops {
		switch s.of(stop.XY) {
		case inside:
			in = append(in, stop.Value)
		case check:
			out = append(out, stop.Value)
		}
	}
	return in, out
}

// worked tells whether a treatment did, as far as stops inside and out do.
func (r *Result) worked(f *Field, t *TreatmentResult, ground sides) {
	if t.After < 0 {
		t.Why = &NoEfficacy{Gap: NotYet}
		if f.Visits[len(f.Visits)-1].Last > t.Date {
			t.Why.Gap = NoneInside
		}
		return
	}
	twice := 0
	for _, s := range since(f.Visits[t.After].Assess.Stops, t.Date) {
		switch ground.of(s.XY) {
		case inside:
			t.Inside++
			if ground.alsoTreated(s.XY) {
				twice++
			}
		case leftOut:
			t.LeftOut++
		default:
			t.Outside++
		}
	}
	f.sayOthers(t, twice)
	switch {
	case t.Inside == 0:
		t.Why = &NoEfficacy{Gap: NoneInside}
		return
	case t.Outside == 0:
		t.Why = r.withoutCheck(f, t, ground)
		return
	}
	e, err := paired.Worked(r.groups(f, t, ground), r.Settings.Chance)
	if err != nil {
		t.Why = &NoEfficacy{Gap: NotComputable, Err: err}
		if errors.Is(err, paired.ErrTooFew) {
			t.Why.Gap = TooFewStops
		}
		return
	}
	t.Efficacy = &e
}

// sayOthers tells of stops that other treatments have a part in.
func (f *Field) sayOthers(t *TreatmentResult, twice int) {
	if t.LeftOut > 0 {
		f.Notes = append(f.Notes, Note{On: OutsideElsewhere, Treatment: t.Treatment, N: t.LeftOut})
	}
	if twice > 0 {
		f.Notes = append(f.Notes, Note{On: InsideAlsoTreated, Treatment: t.Treatment, N: twice, Of: t.Inside})
	}
}

// withoutCheck is what counts inside alone tell.
func (r *Result) withoutCheck(f *Field, t *TreatmentResult, ground sides) *NoEfficacy {
	if t.Before < 0 {
		return &NoEfficacy{Gap: NoneBefore}
	}
	g := r.groups(f, t, ground)
	percent, interval, err := paired.Fell(g.TreatedBefore, g.TreatedAfter, g.Matched, r.Settings.Chance)
	if err != nil {
		return &NoEfficacy{Gap: NoCheckNorInside, Err: err}
	}
	return &NoEfficacy{Gap: NoCheck, Percent: percent, Interval: interval}
}

// groups parts the stops by treated ground; matched places where there are enough
// on both sides, or inside where there is no check.
func (r *Result) groups(f *Field, t *TreatmentResult, ground sides) (g paired.Groups) {
	after := f.Visits[t.After]
	if t.Before >= 0 {
		before := f.Visits[t.Before]
		for _, p := range r.match(before, after) {
			b, a := before.Assess.Stops[p.A], after.Assess.Stops[p.B]
			if a.Date <= t.Date {
				continue
			}
			switch in := ground.of(a.XY); {
			case in != ground.of(b.XY): // across an edge: neither
			case in == inside:
				g.TreatedBefore, g.TreatedAfter = append(g.TreatedBefore, b.Value), append(g.TreatedAfter, a.Value)
			case in == check:
				g.CheckBefore, g.CheckAfter = append(g.CheckBefore, b.Value), append(g.CheckAfter, a.Value)
			}
		}
		if len(g.TreatedBefore) >= paired.FewestPlaces && (len(g.CheckBefore) >= paired.FewestPlaces || t.Outside == 0) {
			g.Matched = true
			return g
		}
		g = paired.Groups{}
		g.TreatedBefore, g.CheckBefore = ground.values(before.Assess.Stops)
	}
	g.TreatedAfter, g.CheckAfter = ground.values(since(after.Assess.Stops, t.Date))
	return g
}

// since are the stops that were counted after a day.
func since(stops []assess.Stop, day string) (after []assess.Stop) {
	for _, s := range stops {
		if s.Date > day {
			after = append(after, s)
		}
	}
	return after
}
