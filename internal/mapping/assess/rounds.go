package assess

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/internal/scouting/layout"
	"github.com/geocoris/geocoris/internal/sorted"
)

// What stops have to do to be a walk round another. Our choices, no source.
const (
	roundStop   = 2.0 / 3 // of the spacing: how far from a stop a walk round it goes, a half and what phones are off by
	roundStops  = 4       // as many more than others have so near are a walk round a stop
	mostHot     = 1.0 / 4 // of the places: where more are hot, there is no walk round any
	roundGap    = 1.5     // times as far as the one before, and farther than phones are off: the next is of another circle
	roundWidest = 7.0 / 6 // of π: the widest angle without any stop of a walk round, at the edge a half and an error
)

// rounds finds walks round hot stops: four stops more than cold ones have within two thirds
// of the spacing of one at or over the treat level, the densest first: of circles it is the
// middle. The stop itself stands for the place, as where the others were marked as extra;
// of stops as near as phones tell apart it is the one walked first. Who marked stops as
// planned walked round these alone, with unmarked ones.
func (p parted) rounds(near neighbours, at []orb.Point, counts counted) (all []Together) {
	r := rounds{p, at, counts, near.near(roundStop * p.spacing), near.near(p.even), 0, make([]bool, len(at))}
	var hot, sizes []int
	for i := range at {
		if counts.values[i] >= counts.treatAt {
			hot = append(hot, i)
		} else {
			sizes = append(sizes, len(r.near[i])-1)
		}
	}
	r.usual = median(sizes)
	walks := make(map[int]Together)
	for _, i := range hot {
		if walk := r.walk(i); len(walk.Others) > 0 {
			walks[i] = walk
		}
	}
	hot = slices.DeleteFunc(hot, func(i int) bool { return len(walks[i].Others) == 0 })
	sorted.By(hot, func(a, b int) int {
		return cmp.Or(cmp.Compare(walks[b].density(), walks[a].density()), cmp.Compare(counts.values[b], counts.values[a]), before(at[a], at[b]))
	})
	for _, i := range hot {
		if r.taken[i] {
			continue
		}
		t := walks[i]
		if r.taken[t.At] || slices.ContainsFunc(t.Others, func(k int) bool { return r.taken[k] }) {
			t = r.walk(i)
		}
		if len(t.Others) == 0 {
			continue
		}
		r.taken[t.At] = true
		for _, k := range t.Others {
			r.taken[k] = true
		}
		all = append(all, t)
	}
	return all
}

// density is how many stops of a walk round one stand on so many m², but for a factor.
func (t Together) density() float64 { return float64(len(t.Others)) / float64(t.Within*t.Within) }

// rounds is what walks round stops are looked for among.
type rounds struct {
	parted
	at     []orb.Point
	counts counted
	near   [][]int // of each stop
	beside [][]int // likewise
	usual  int     // stops near a cold one
	taken  []bool  // by walks found before
}

// walk is the walk round a stop, without others where there is none, or where one beside
// it has more stops beside it: so it is round that one.
func (r rounds) walk(i int) Together {
	if slices.ContainsFunc(r.beside[i], func(k int) bool { return len(r.beside[k]) > len(r.beside[i]) }) {
		return Together{}
	}
	free := slices.DeleteFunc(slices.Clone(r.near[i]), func(k int) bool { return k == i || r.taken[k] })
	if len(free) < r.usual+roundStops {
		return Together{}
	}
	sorted.By(free, func(a, b int) int {
		return cmp.Or(r.counts.unmarkedFirst(a, b), cmp.Compare(apart(r.at[a], r.at[i]), apart(r.at[b], r.at[i])), before(r.at[a], r.at[b]))
	})
	free = r.circles(i, r.counts.walk(i, free[:len(free)-r.usual]))
	t := Together{At: i, Round: true, Spacing: r.spacing}
	if n := len(free); n > 0 && apart(r.at[i], r.at[free[n-1]]) <= r.even {
		free = append(free, i)
		if first := r.counts.first(r.counts.anyPlanned(free)); first >= 0 {
			t.At = first
		}
	}
	t.of(free, r.at)
	return t
}

// circles are those of the stops near one, the nearest first, that walk round it: up to the
// end of the last circle of four stops on all sides of it. Past a gap a few are of the walk
// over the field.
func (r rounds) circles(i int, near []int) []int {
	p, walk, from := r.at[i], 0, 0
	for k := range near {
		if k+1 < len(near) && !parts(apart(r.at[near[k]], p), apart(r.at[near[k+1]], p)) {
			continue
		}
		if circle := near[from : k+1]; r.places(p, circle) >= roundStops && widest(p, circle, r.at) <= roundWidest*math.Pi {
			walk = k + 1
		}
		from = k + 1
	}
	return near[:walk]
}

// places is how many stops a circle round a stop has: one where some stand beside each
// other, but not beside it.
func (r rounds) places(p orb.Point, circle []int) int {
	var apartFrom []int
	for _, k := range circle {
		if apart(r.at[k], p) <= r.even || !slices.ContainsFunc(apartFrom, func(o int) bool { return apart(r.at[o], r.at[k]) <= r.even }) {
			if apartFrom = append(apartFrom, k); len(apartFrom) == roundStops {
				break
			}
		}
	}
	return len(apartFrom)
}

// parts reports whether so many metres from a stop one circle round it ends and the next
// stop is of another.
func parts(last, next float64) bool {
	return next > roundGap*last && next-last > 2*layout.SamePlace
}

// manyHot reports that many of the places are at or over the treat level.
func manyHot(found []Together, treatAt float64, values []float64) bool {
	var hot, all float64
	for _, t := range found {
		for _, i := range t.Others {
			all--
			if values[i] >= treatAt {
				hot--
			}
		}
	}
	for _, v := range values {
		all++
		if v >= treatAt {
			hot++
		}
	}
	return hot > mostHot*all
}

// unmarkedFirst orders two stops by whether they were marked as planned.
func (c counted) unmarkedFirst(a, b int) int {
	switch {
	case c.planned[a] == c.planned[b]:
		return 0
	case c.planned[b]:
		return -1
	}
	return 1
}

// walk are those of the stops round one that walk round it: all where all are marked as
// planned or none is, else the unmarked ones round a planned one.
func (c counted) walk(at int, round []int) []int {
	unmarked := slices.DeleteFunc(slices.Clone(round), func(k int) bool { return c.planned[k] })
	if len(unmarked) == 0 && c.planned[at] || len(unmarked) == len(round) {
		return round
	}
	if !c.planned[at] {
		return nil
	}
	return unmarked
}

// widest is the widest angle at a stop without any of others, in radians.
func widest(p orb.Point, others []int, at []orb.Point) (gap float64) {
	var angles []float64
	for _, k := range others {
		angles = append(angles, math.Atan2(at[k][1]-p[1], at[k][0]-p[0]))
	}
	slices.Sort(angles)
	for i, a := range angles {
		next := angles[0] + 2*math.Pi
		if i+1 < len(angles) {
			next = angles[i+1]
		}
		gap = max(gap, next-a)
	}
	return gap
}

// takenBy are the stops, of so many, that stand for a place or are taken as extra.
func takenBy(found []Together, n int) []bool {
	taken := make([]bool, n)
	for _, t := range found {
		taken[t.At] = true
		for _, i := range t.Others {
			taken[i] = true
		}
	}
	return taken
}
