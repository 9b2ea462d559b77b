package assess

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/internal/sorted"
)

// What stops have to do to be a walk round another. Our choices, no source.
const (
	roundStop   = 2.0 / 3 // of the spacing: how far from a stop a walk round it goes, a half and what phones are off by
	roundStops  = 4       // as many more than others have so near are a walk round a stop
	mostHot     = 1.0 / 4 // of the places: where more are hot, there is no walk round any
	roundWidest = 7.0 / 6 // of π: the widest angle without any stop of a walk round, at the edge a half and an error
)

// rounds finds walks round hot stops: four stops more than cold ones have within two thirds
// of the spacing of one at or over the treat level, the one with the most first: of two
// circles it is the middle. The stop itself stands for the place, as where the others were
// marked as extra. Who marked stops as planned walked round these alone, with unmarked ones.
func rounds(spacing, treatAt float64, near neighbours, at []orb.Point, counts counted) (all []Together) {
	values, taken := counts.values, make([]bool, len(at))
	var hot, sizes []int
	round := near.near(roundStop * spacing)
	for i := range at {
		if values[i] >= treatAt {
			hot = append(hot, i)
		} else {
			sizes = append(sizes, len(round[i])-1)
		}
	}
	most := median(sizes)
	sorted.By(hot, func(a, b int) int {
		return cmp.Or(len(round[b])-len(round[a]), cmp.Compare(values[b], values[a]), before(at[a], at[b]))
	})
	for _, i := range hot {
		if taken[i] {
			continue
		}
		free := slices.DeleteFunc(slices.Clone(round[i]), func(k int) bool { return k == i || taken[k] })
		if len(free) < most+roundStops {
			continue
		}
		sorted.By(free, func(a, b int) int {
			return cmp.Or(counts.unmarkedFirst(a, b), cmp.Compare(apart(at[a], at[i]), apart(at[b], at[i])), before(at[a], at[b]))
		})
		free = counts.walk(i, free[:len(free)-most])
		if len(free) < roundStops || widest(at[i], free, at) > roundWidest*math.Pi {
			continue
		}
		t := Together{At: i, Round: true, Spacing: spacing}
		t.of(free, at)
		taken[i] = true
		for _, k := range t.Others {
			taken[k] = true
		}
		all = append(all, t)
	}
	return all
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
