package compare

import (
	"fmt"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/internal/followup/paired"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/stat"
)

// What a treatment does after its day, by one Texas trial of 2015 on sorghum aphid:
// good control may hold 17 to 21 days, poor control needs another look at 10 to 14.
const (
	controlHolds = 21 // days after which ground counts as not treated again
	lookFrom     = 10
	lookUntil    = 14
)

// A Basis is the ground whose stops tell the growth of a step.
type Basis int

const (
	AllGround Basis = iota // no treatment has a part in the step
	Untreated              // neither treated between the visits nor in the 21 days before them
	Regrowth               // not treated between the visits; some or all of it in the 21 days before
	NoGround               // too few stops in ground not treated between the visits: no growth is known
)

// String is the word used in files.
func (b Basis) String() string {
	switch b {
	case AllGround:
		return "all ground"
	case Untreated:
		return "ground not treated"
	case Regrowth:
		return "ground not treated between the visits"
	case NoGround:
		return "none"
	}
	return fmt.Sprintf("basis %d", int(b))
}

// A Lot is the ground of a field by what was done to it, as far as a step goes. What
// was treated before and between the visits is treated between them.
type Lot int

const (
	NotTreated     Lot = iota
	TreatedBefore      // in the 21 days before the first visit of the step
	TreatedBetween     // the visits
)

// String is the word used in files.
func (l Lot) String() string {
	switch l {
	case NotTreated:
		return "not treated"
	case TreatedBefore:
		return "treated before the visits"
	case TreatedBetween:
		return "treated between the visits"
	}
	return fmt.Sprintf("lot %d", int(l))
}

// A Part is what the stops of one lot say of a step.
type Part struct {
	Lot          Lot
	Dates        []string // of the treatments, in their order, each once
	Matched      bool     // NA and NB are the same places
	NA, NB       int      // stops
	MeanA, MeanB float64  // NaN without stops
}

// between reports whether a treatment lies between two visits; counts of its own day
// come before it.
func (s sprayed) between(a, b *Visit) bool { return s.seen(a) <= s.day && s.day < s.seen(b) }

// before reports whether a treatment came before a visit, and may still hold there.
func (s sprayed) before(v *Visit) bool {
	seen := s.seen(v)
	return s.day < seen && seen-s.day <= controlHolds
}

// A parting tells the ground of a step apart by its treatments.
type parting struct{ between, before []sprayed }

func (f *Field) parting(a, b *Visit) (p parting) {
	for _, s := range f.sprays {
		switch {
		case s.between(a, b):
			p.between = append(p.between, s)
		case s.before(a):
			p.before = append(p.before, s)
		}
	}
	return p
}

// none reports that no treatment has a part in the step.
func (p parting) none() bool { return len(p.between)+len(p.before) == 0 }

// lot is that of a place.
func (p parting) lot(at orb.Point) Lot {
	switch in := func(s sprayed) bool { return s.holds(at) }; {
	case slices.ContainsFunc(p.between, in):
		return TreatedBetween
	case slices.ContainsFunc(p.before, in):
		return TreatedBefore
	}
	return NotTreated
}

// holds reports whether a place is ground that a basis stands on.
func (p parting) holds(b Basis) func(at orb.Point) bool {
	return func(at orb.Point) bool {
		switch b {
		case Untreated:
			return p.lot(at) == NotTreated
		case Regrowth:
			return p.lot(at) != TreatedBetween
		}
		return b == AllGround
	}
}

// ground is what was treated between the visits, in metres; nil where nothing was.
func (p parting) ground() (orb.MultiPolygon, error) { return groundsOf(p.between) }

// all is what was treated between the visits or in the days before, in metres.
func (p parting) all() (orb.MultiPolygon, error) {
	return groundsOf(append(slices.Clone(p.between), p.before...))
}

func groundsOf(sprays []sprayed) (orb.MultiPolygon, error) {
	switch len(sprays) {
	case 0:
		return nil, nil
	case 1:
		return sprays[0].ground, nil
	}
	var grounds orb.MultiPolygon
	for _, s := range sprays {
		grounds = append(grounds, s.ground...)
	}
	return union(grounds)
}

// datesOf are the days of treatments in their order, each once.
func datesOf(sprays []sprayed) (dates []string) {
	for _, s := range sprays {
		dates = append(dates, s.Date)
	}
	slices.Sort(dates)
	return slices.Compact(dates)
}

// growth measures a step where growth can be known: in ground that was not treated, as
// a treatment is no growth. Ground treated before both visits is taken where there is
// too little other: it grows again, though maybe held back. Matched stops must lie
// alike at both visits.
func (r *Result) growth(f *Field, s *Step) error {
	a, b := f.Visits[s.From], f.Visits[s.To]
	p := f.parting(a, b)
	var err error
	if p.none() {
		s.Change, err = r.changeOf(f, s, func(orb.Point) bool { return true })
		return err
	}
	s.Basis = NoGround
	for _, basis := range []Basis{Untreated, Regrowth} {
		if na, nb := f.stopsIn(s, p.holds(basis)); min(na, nb) >= FewestPairs {
			s.Basis = basis
			break
		}
	}
	if s.Basis == NoGround {
		s.Change = unknownChange(a, b, f.Scale.Shares())
	} else if s.Change, err = r.changeOf(f, s, p.holds(s.Basis)); err != nil {
		return err
	}
	for _, lot := range []Lot{NotTreated, TreatedBefore, TreatedBetween} {
		if part, ok := r.part(f, s, p, lot); ok {
			s.Parts = append(s.Parts, part)
		}
	}
	return nil
}

// unknownChange holds the means of all stops and no growth.
func unknownChange(a, b *Visit, odds bool) paired.Change {
	none := math.NaN()
	return paired.Change{
		NA: len(a.Assess.Planned()), NB: len(b.Assess.Planned()), MeanA: a.Assess.Mean, MeanB: b.Assess.Mean,
		Rate: none, Interval: paired.Interval{Low: none, High: none}, Odds: odds, Typical: none, P: none,
	}
}

// stopsIn counts the stops of both visits in some ground.
func (f *Field) stopsIn(s *Step, holds func(orb.Point) bool) (na, nb int) {
	return len(within(f.Visits[s.From], holds)), len(within(f.Visits[s.To], holds))
}

// within are the stops of a visit in some ground that its mean is of.
func within(v *Visit, holds func(orb.Point) bool) (stops []assess.Stop) {
	for _, s := range v.Assess.Planned() {
		if holds(s.XY) {
			stops = append(stops, s)
		}
	}
	return stops
}

// valuesIn are the values of a step in some ground: of matched places where enough of
// them lie in it at both visits, or else of all stops in it.
func (r *Result) valuesIn(f *Field, s *Step, holds func(orb.Point) bool) (va, vb []float64, matched bool) {
	a, b := f.Visits[s.From], f.Visits[s.To]
	pairs := slices.DeleteFunc(slices.Clone(s.Pairs), func(p paired.Pair) bool {
		return !holds(a.Assess.Stops[p.A].XY) || !holds(b.Assess.Stops[p.B].XY)
	})
	if len(pairs) >= FewestPairs {
		va, vb = valuesOf(a, b, pairs)
		return va, vb, true
	}
	return valuesOfStops(within(a, holds)), valuesOfStops(within(b, holds)), false
}

func valuesOfStops(stops []assess.Stop) []float64 {
	out := make([]float64, len(stops))
	for i, s := range stops {
		out[i] = s.Value
	}
	return out
}

// changeOf measures the change of a step in some ground.
func (r *Result) changeOf(f *Field, s *Step, holds func(orb.Point) bool) (paired.Change, error) {
	v := paired.Visits{Days: s.Days, Least: f.Scale.Least, Whole: f.Scale.Whole}
	v.A, v.B, v.Matched = r.valuesIn(f, s, holds)
	return paired.Compare(v, r.Settings.Chance)
}

// part is what the stops of a lot say; not ok where no treatment made it, or where the
// ground not treated has no stops at all.
func (r *Result) part(f *Field, s *Step, p parting, lot Lot) (part Part, ok bool) {
	part.Lot = lot
	switch lot {
	case TreatedBetween:
		part.Dates = datesOf(p.between)
	case TreatedBefore:
		part.Dates = datesOf(p.before)
	}
	if lot != NotTreated && part.Dates == nil {
		return part, false
	}
	va, vb, matched := r.valuesIn(f, s, func(at orb.Point) bool { return p.lot(at) == lot })
	part.Matched, part.NA, part.NB, part.MeanA, part.MeanB = matched, len(va), len(vb), stat.Mean(va), stat.Mean(vb)
	return part, lot != NotTreated || part.NA+part.NB > 0
}

// Besides are the parts that the change leaves out.
func (s *Step) Besides() (parts []Part) {
	for _, p := range s.Parts {
		if s.Basis != Untreated || p.Lot != NotTreated {
			parts = append(parts, p)
		}
	}
	return parts
}

// sayTreated notes what the parting of ground rests on, and treatments that no count
// has seen yet.
func (f *Field) sayTreated() {
	last := f.Visits[len(f.Visits)-1]
	for _, s := range f.Steps {
		if before := f.parting(f.Visits[s.From], f.Visits[s.To]).before; len(before) > 0 {
			f.Notes = append(f.Notes, Note{On: TreatedFor, Days: controlHolds})
			break
		}
	}
	for _, s := range f.sprays {
		if s.day >= s.seen(last) {
			f.Notes = append(f.Notes, Note{On: NoCountAfter, Treatment: s.Treatment})
		}
	}
}
