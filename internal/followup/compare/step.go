package compare

import (
	"math"
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/internal/followup/change"
	"github.com/geocoris/geocoris/internal/followup/paired"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/mapping/visit"
)

// FewestPairs is how many matched stops carry a comparison by themselves; with
// fewer, all stops of both visits are compared as unmatched. Six pairs are the
// fewest whose smallest p-value, 2/2⁶, is below 0.05.
const FewestPairs = 6

// A Step is what happened between two visits.
type Step struct {
	From, To int // visits
	Days     float64
	Pairs    []paired.Pair
	Basis    Basis         // the ground that Change is of
	Change   paired.Change // without a rate where Basis is NoGround: means of all stops then
	Parts    []Part        // of the field, where a treatment has a part in the step
	Table    change.Table
	Areas    map[change.Kind]float64 // m²
	Treated  map[change.Kind]float64 // m² of Areas that were treated between the visits
	// TreatedOn are the days of those treatments, and TreatedGround their ground in metres.
	TreatedOn     []string
	TreatedGround orb.MultiPolygon
	Ground        map[change.Lot]orb.MultiPolygon // degrees
	Grids         change.Grids
	Unseen        float64  // share of the field that one of the visits had no stop near
	Unlike        []Unlike // where like is not compared with like
	Fallen        []assess.Fallen
}

func (r *Result) step(f *Field, from, to int) (*Step, error) {
	a, b := f.Visits[from], f.Visits[to]
	s := &Step{From: from, To: to, Days: b.Grid.Day - a.Grid.Day, Pairs: r.match(a, b), Areas: map[change.Kind]float64{}, Treated: map[change.Kind]float64{}}
	if err := r.growth(f, s); err != nil {
		return nil, err
	}
	var err error
	if s.Grids, err = change.Compare(a.Grid, b.Grid, f.Scale); err != nil {
		return nil, err
	}
	p := f.parting(a, b)
	s.TreatedOn = datesOf(p.between)
	if s.TreatedGround, err = p.ground(); err != nil {
		return nil, err
	}
	o, err := change.Lay(f.XY, a.Grid.Map, b.Grid.Map, s.TreatedGround, b.Grid.Unseen(a.Grid))
	if err != nil {
		return nil, err
	}
	s.Table = o.Table()
	for _, k := range change.Kinds() {
		s.Areas[k], s.Treated[k] = o.Area(k), o.AreaOf(change.Lot{Kind: k, Treated: true})
	}
	s.Ground = o.Ground(f.Frame)
	s.Unseen = unseen(s.Grids, f.XY)
	s.Unlike = r.unlike(a, b)
	s.Fallen = fallen(a, b, s, p)
	return s, nil
}

// fallen are the matched stops that had the spray level and next to nothing soon after, where no
// treatment tells why.
func fallen(a, b *Visit, s *Step, p parting) (all []assess.Fallen) {
	for _, pair := range s.Pairs {
		from, to := a.Assess.Stops[pair.A], b.Assess.Stops[pair.B]
		days := s.Days
		if between := visit.Between(from.Date, to.Date); !math.IsNaN(between) {
			days = between
		}
		if assess.FellToNothing(from.Value, to.Value, a.Levels.TreatAt, days) && p.lot(to.XY) == NotTreated {
			all = append(all, assess.Fallen{Stop: from.Name, From: from.Value, To: to.Value, Days: days})
		}
	}
	return all
}

// match pairs the stops of two visits, as indexes of all their stops. Extra stops have
// no part: who adds them where there is most would see growth in the adding.
func (r *Result) match(a, b *Visit) (pairs []paired.Pair) {
	pa, ofA := places(a)
	pb, ofB := places(b)
	if r.Settings.ByName {
		pairs = paired.ByName(pa, pb)
	} else {
		pairs = paired.ByDistance(pa, pb, r.Settings.Within)
	}
	for i := range pairs {
		pairs[i].A, pairs[i].B = ofA[pairs[i].A], ofB[pairs[i].B]
	}
	return pairs
}

// places are the stops that the mean of a visit is of, and their indexes of all.
func places(v *Visit) (out []paired.Place, index []int) {
	all := v.Assess.ExtraStops() == 0
	for i, s := range v.Assess.Stops {
		if all || !s.Extra {
			out, index = append(out, paired.Place{Name: s.Name, X: s.XY[0], Y: s.XY[1], Value: s.Value, Units: s.Units}), append(index, i)
		}
	}
	return out, index
}

func valuesOf(a, b *Visit, pairs []paired.Pair) (va, vb []float64) {
	for _, p := range pairs {
		va, vb = append(va, a.Assess.Stops[p.A].Value), append(vb, b.Assess.Stops[p.B].Value)
	}
	return va, vb
}

// unseen is the share of the field's nodes that have no difference.
func unseen(g change.Grids, field orb.MultiPolygon) float64 {
	var all, without float64
	for i := range change.NodesInside(g.Difference.Lattice, field) {
		all++
		if math.IsNaN(g.Difference.Values[i]) {
			without++
		}
	}
	return without / max(1, all)
}

// unlike is what differs between two visits besides the pest.
func (r *Result) unlike(a, b *Visit) (out []Unlike) {
	if eyes, ok := r.eyes(a, b); ok {
		out = append(out, eyes)
	}
	stagesOf := func(s assess.Stop) []string { return []string{s.Stage} }
	for _, d := range []struct {
		in Difference
		of func(assess.Stop) []string
	}{{LeafRules, leavesOf}, {Stages, stagesOf}} {
		if x, y := named(a, d.of), named(b, d.of); x != y {
			out = append(out, Unlike{In: d.in, Before: x, After: y})
		}
	}
	if a.Levels.Levels != b.Levels.Levels {
		out = append(out, Unlike{In: LevelPairs})
	}
	out = append(out, differentCuts(a, b)...)
	if x, y := effort(a), effort(b); x != y {
		out = append(out, Unlike{In: Effort, BeforeN: x, AfterN: y})
	}
	const differs = 1.5
	if n, m := float64(len(a.Assess.Stops)), float64(len(b.Assess.Stops)); max(n, m) > differs*min(n, m) {
		out = append(out, Unlike{In: StopNumbers, BeforeN: n, AfterN: m})
	}
	return out
}

// differentCuts tells of zones of one pair of levels that are cut at other values, as
// a catch cuts them.
func differentCuts(a, b *Visit) []Unlike {
	x, xOK := a.cuts()
	y, yOK := b.cuts()
	switch {
	case xOK != yOK:
		return []Unlike{{In: CutKinds}}
	case xOK && a.Levels.Levels == b.Levels.Levels && x != y:
		return []Unlike{{In: CutValues, BeforeN: x.TreatAt, AfterN: y.TreatAt}}
	}
	return nil
}

func leavesOf(s assess.Stop) (out []string) {
	for _, r := range s.Records {
		out = append(out, r.Leaf)
	}
	return out
}

// named is what the stops of a visit say of something, sorted, each once.
func named(v *Visit, of func(assess.Stop) []string) string {
	var all []string
	for _, s := range v.Assess.Stops {
		for _, text := range of(s) {
			if text != "" {
				all = append(all, text)
			}
		}
	}
	slices.Sort(all)
	return strings.Join(slices.Compact(all), ", ")
}

// effort is the median of units counted at a stop.
func effort(v *Visit) float64 {
	var units []float64
	for _, s := range v.Assess.Stops {
		units = append(units, s.Units)
	}
	slices.Sort(units)
	return units[len(units)/2]
}
