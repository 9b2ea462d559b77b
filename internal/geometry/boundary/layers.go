package boundary

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/geometry/planar"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/sorted"
)

const (
	// leastWidth in metres of shared ground: files hold seven decimals of a degree,
	// 11 mm, so what is narrower is how coordinates were rounded.
	leastWidth = 0.01
	// leastSaid in metres is the mean width, and in m² the area, below which shared
	// ground is not worth a line: two hands that draw one fence. Judgement, no source.
	leastSaid = 1
	// mostPairs is how many outlines each may lie on, on average, and pairsFree how
	// many pairs a file has at any rate. Judgement, no source.
	mostPairs, pairsFree = 40, 2000
)

// pair is two outlines whose bounds meet, by number.
type pair struct{ a, b int }

// pairsOf finds them by a sweep from west to east. Outlines that lie on one another
// in heaps are no fields, and would take for ever.
func pairsOf(all []*drawn) (pairs []pair, err error) {
	order := make([]int, len(all))
	for i := range order {
		order[i] = i
	}
	sorted.Stably(order, func(i, j int) int { return cmp.Compare(all[i].bound.Min[0], all[j].bound.Min[0]) })
	var cut []int
	for _, i := range order {
		kept := cut[:0]
		for _, j := range cut {
			if all[j].bound.Max[0] < all[i].bound.Min[0] {
				continue
			}
			kept = append(kept, j)
			if all[j].bound.Intersects(all[i].bound) {
				pairs = append(pairs, pair{min(i, j), max(i, j)})
			}
		}
		if len(pairs) > mostPairs*len(all)+pairsFree {
			return nil, errors.New("the outlines lie on one another in heaps, which no fields do; give one outline for each field")
		}
		cut = append(kept, i)
	}
	sorted.By(pairs, func(p, q pair) int { return cmp.Or(p.a-q.a, p.b-q.b) })
	return pairs, nil
}

// layers sort out outlines that lie on one another.
type layers struct {
	all    []*drawn
	pairs  []pair
	inner  string
	shared map[pair]orb.MultiPolygon // of pairs that share ground, in metres of the first
	out    Outlines
}

func (l *layers) sort() error {
	l.shared = map[pair]orb.MultiPolygon{}
	for _, p := range l.pairs {
		a, b := l.all[p.a], l.all[p.b]
		other := a.frame.ForwardPolygons(b.lonlat)
		if narrow(geo.Bound(a.xy), geo.Bound(other)) {
			continue
		}
		ground, err := both(a.xy, other)
		if err != nil {
			return fmt.Errorf("%q and %q: %w", a.name, b.name, err)
		}
		if widest(ground) >= leastWidth {
			l.shared[p] = ground
		}
	}
	around := l.nested()
	claims, err := l.claims(around)
	if err != nil {
		return err
	}
	return l.cut(claims)
}

// narrow reports whether two bounds share less than a strip of the least width.
func narrow(a, b orb.Bound) bool {
	return min(a.Max[0], b.Max[0])-max(a.Min[0], b.Min[0]) < leastWidth ||
		min(a.Max[1], b.Max[1])-max(a.Min[1], b.Min[1]) < leastWidth
}

// nested tells for each outline the smallest field around it, −1 for none, and what
// it is by that: a field, no field or to be asked for.
func (l *layers) nested() (around []int) {
	around = make([]int, len(l.all))
	for i := range around {
		around[i] = -1
	}
	note := func(i, j int, shared float64) {
		if l.all[j].closed == "" && inside(l.all[i].area, l.all[j].area, shared) && (around[i] < 0 || l.all[j].area < l.all[around[i]].area) {
			around[i] = j
		}
	}
	for _, p := range l.pairs {
		if ground, ok := l.shared[p]; ok {
			area := geo.Area(ground)
			note(p.a, p.b, area)
			note(p.b, p.a, area)
		}
	}
	for i, d := range l.all {
		on := around[i]
		if on < 0 && d.maybe {
			on = l.over(i)
		}
		switch {
		case on < 0:
		case d.closed != "" && l.inner == InnerField: // said of all, so not of a pond that tells what it is
			d.closed += ", also with --inner field"
		case d.closed != "", l.inner == InnerField:
		case l.inner == InnerHole:
			d.closed = "is a hole (--inner hole)"
		default:
			l.out.Asked = append(l.out.Asked, Nested{d.field(), l.all[on].name, d.maybe})
			if d.maybe {
				l.warn(fmt.Sprintf("%q is taken for a field, and may be none by its name", d.name))
			}
		}
	}
	return around
}

// leastOver is the share of an outline in a larger field from which on it is drawn over the
// edge of it rather than beside it. Judgement, no source.
const leastOver = 0.05

// over is the first larger field that an outline reaches into, −1 for none.
func (l *layers) over(i int) int {
	for _, p := range l.pairs {
		other := p.a + p.b - i
		if p.a != i && p.b != i || l.all[other].closed != "" || l.all[other].area < l.all[i].area {
			continue
		}
		if geo.Area(l.shared[p]) >= leastOver*l.all[i].area {
			return other
		}
	}
	return -1
}

// claims are grounds that are not a field's, in metres of it.
type claims map[int][]orb.MultiPolygon

func (l *layers) claims(around []int) (claims, error) {
	c := claims{}
	lost := make([][]string, len(l.all)) // fields that each outline takes ground of
	for _, p := range l.pairs {
		for _, at := range [...]pair{p, {p.b, p.a}} { // the first takes of the second
			taker, loser := l.all[at.a], l.all[at.b]
			if loser.closed != "" {
				continue
			}
			if err := l.holesOf(taker, at.b, c); err != nil {
				return nil, err
			}
			ground, ok := l.shared[p]
			if !ok || taker.closed == "" && !l.before(at.a, at.b) {
				continue
			}
			area := geo.Area(ground)
			if taker.closed != "" && area > loser.area/2 {
				return nil, fmt.Errorf("field %q lies for the most part in %q, which %s: correct the outlines, or rename the one that is wrong", loser.name, taker.name, taker.closed)
			}
			c[at.b] = append(c[at.b], loser.frame.ForwardPolygons(taker.lonlat))
			switch said := area >= leastSaid && widest(ground) >= leastSaid; {
			case taker.closed != "":
				lost[at.a] = append(lost[at.a], loser.name)
			case around[at.a] == at.b:
				l.warn(fmt.Sprintf("field %q lies inside %q: its %s are left out of %q", taker.name, loser.name, figures.Metric.Area(area), loser.name))
			case said:
				l.out.Overlaps = append(l.out.Overlaps, Overlap{To: taker.name, From: loser.name, Area: math.Round(area)})
				l.warn(l.out.Overlaps[len(l.out.Overlaps)-1].String())
			}
		}
	}
	for i, d := range l.all {
		switch {
		case d.closed == "":
		case len(lost[i]) > 0:
			l.warn(fmt.Sprintf("%q %s: left out of %s", d.name, d.closed, listed(lost[i])))
		default:
			d.alone = true
			l.warn(NoField{Field: geo.Field{Name: d.name}, Why: d.closed}.LeftOut())
		}
	}
	return c, nil
}

func (l *layers) warn(line string) { l.out.Warnings = append(l.out.Warnings, line) }

// before reports whether a field keeps what it shares with another: the smaller one
// does, since it loses more by it, and the first listed of two as large to a tenth
// of a square metre.
func (l *layers) before(i, j int) bool {
	tenths := func(d *drawn) float64 { return math.Round(10 * d.area) }
	return cmp.Or(cmp.Compare(tenths(l.all[i]), tenths(l.all[j])), cmp.Compare(i, j)) < 0
}

// holesOf claims the holes of an outline that reach into a field.
func (l *layers) holesOf(taker *drawn, field int, c claims) error {
	f := l.all[field]
	if taker.closed != "" { // the hole of a pond is an island
		return nil
	}
	for _, hole := range taker.holes {
		xy := f.frame.ForwardPolygons(orb.MultiPolygon{hole})
		if narrow(geo.Bound(f.xy), geo.Bound(xy)) {
			continue
		}
		ground, err := planar.Ground(xy)
		if err != nil {
			return err
		}
		taken, err := reached(f.xy, ground)
		if err != nil {
			return err
		}
		if widest(taken) < leastWidth {
			continue
		}
		c[field] = append(c[field], taken)
		if area := geo.Area(taken); area >= leastSaid && widest(taken) >= leastSaid {
			l.warn(fmt.Sprintf("a hole of %q reaches into %q: %s are left out of %q", taker.name, f.name, figures.Metric.Area(area), f.name))
		}
	}
	return nil
}

// reached is the ground of a field in the hole of another, but for parts that lie in
// it by more than half: they are islands.
func reached(field, hole orb.MultiPolygon) (taken orb.MultiPolygon, err error) {
	for _, part := range field {
		if narrow(part.Bound(), geo.Bound(hole)) {
			continue
		}
		of := orb.MultiPolygon{part}
		shared, err := both(of, hole)
		if err != nil {
			return nil, err
		}
		if geo.Area(shared) <= geo.Area(of)/2 {
			taken = append(taken, shared...)
		}
	}
	return taken, nil
}

// cut takes from each field what is not its.
func (l *layers) cut(c claims) error {
	for i, d := range l.all {
		if d.closed != "" || len(c[i]) == 0 {
			continue
		}
		grounds := append([]orb.MultiPolygon{d.xy}, c[i]...)
		left, err := planar.Overlay(grounds, func(in []bool) bool { return in[0] && !slices.Contains(in[1:], true) })
		if err != nil {
			return fmt.Errorf("field %q: %w", d.name, err)
		}
		if left = planar.WithoutSpikes(left, leastWidth); geo.Area(left) < minArea {
			d.gone = true
			l.warn(fmt.Sprintf("field %q has no ground of its own left: it is left out", d.name))
			continue
		}
		if d.lonlat, err = degrees(left, d.frame); err != nil {
			return fmt.Errorf("field %q: %w", d.name, err)
		}
	}
	return nil
}
