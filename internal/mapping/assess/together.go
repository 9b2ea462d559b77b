package assess

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/interp"
)

// What stops have to do to stand together. Our choices, no source.
const (
	atOnePlace  = 1.0 / 4 // of the spacing: how far from a stop others are at its place
	crowdTimes  = 5       // as many stops as places usually hold are a crowd: a walk round a stop, and itself
	roundStop   = 2.0 / 3 // of the spacing: how far from a stop a walk round it goes, a half and what phones are off by
	roundStops  = 4       // as many more than others have so near are a walk round a stop
	mostHot     = 1.0 / 4 // of the places: where more are hot, nobody walks round each
	placeRounds = 20      // at which the spacing is settled in any case
)

// A Together is stops that nobody marked as extra and that count for one place: a crowd, or
// a walk round a hot stop. All but one are taken as extra.
type Together struct {
	At      int     // number of the stop that stands for the place
	Others  []int   // numbers of those taken as extra, ascending
	Round   bool    // a walk round a stop over the treat level, else a crowd
	Within  float64 // metres from At
	Spacing float64 // metres, of the places of the field
}

// markTogether finds the planned stops that stand together, and marks those that stand
// for no place as extra.
func markTogether(area, treatAt float64, stops []Stop) []Together {
	at, values := make([]orb.Point, 0, len(stops)), make([]float64, 0, len(stops))
	var of []int // numbers of the planned ones
	for i, s := range stops {
		if !s.Extra {
			at, values, of = append(at, s.XY), append(values, s.Value), append(of, i)
		}
	}
	all, spacing := crowded(area, at, values)
	all = append(all, rounds(spacing, treatAt, at, values, all)...)
	for i := range all {
		t := &all[i]
		t.At = of[t.At]
		for k := range t.Others {
			t.Others[k] = of[t.Others[k]]
			stops[t.Others[k]].Extra = true
		}
	}
	return all
}

// crowded finds the crowds of stops in a field of so many m²: five times as many stops as
// places usually hold within a quarter of the spacing of one, and the spacing of places in
// metres. So stops along a line, two or twenty at every place, or more in a half of the
// field are none: there a place usually holds as many. The stop that stands for a crowd
// has the least count that is no less than its mean, so that a place is never told lower
// than it is, and copies of one stop are told as it.
func crowded(area float64, at []orb.Point, values []float64) (all []Together, spacing float64) {
	spacing = spacingOf(area, at)
	if len(at) < crowdTimes+1 {
		return nil, spacing
	}
	near := newNeighbours(at)
	// From few places on, since a crowd makes the spacing of all stops small.
	reach := atOnePlace * math.Sqrt(area/crowdTimes)
	for range placeRounds {
		groups := near.groups(reach)
		all = all[:0]
		var places []orb.Point
		most := crowdTimes * usual(groups)
		for _, g := range groups {
			if len(g) < most {
				for _, i := range g {
					places = append(places, at[i])
				}
				continue
			}
			t := crowdOf(g, at, values)
			places = append(places, at[t.At])
			all = append(all, t)
		}
		spacing = spacingOf(area, places)
		if next := atOnePlace * spacing; next < reach {
			reach = next
			continue
		}
		break
	}
	for i := range all {
		all[i].Spacing = spacing
	}
	return all, spacing
}

// crowdOf is a group of stops as a crowd.
func crowdOf(group []int, at []orb.Point, values []float64) Together {
	var sum float64
	for _, i := range group {
		sum += values[i]
	}
	// A hair less, so that as many equal counts are no less than their mean.
	mean := sum / float64(len(group)) * (1 - 1e-12)
	t := Together{At: group[0]}
	for _, i := range group[1:] {
		enough, better := values[i] >= mean, values[i] < values[t.At]
		if !(values[t.At] >= mean) {
			better = enough
		}
		if enough && (better || values[i] == values[t.At] && before(at[i], at[t.At]) < 0) {
			t.At = i
		}
	}
	t.of(group, at)
	return t
}

// of takes all stops of a group but At as the others.
func (t *Together) of(group []int, at []orb.Point) {
	for _, i := range group {
		if i != t.At {
			t.Others = append(t.Others, i)
			t.Within = max(t.Within, apart(at[i], at[t.At]))
		}
	}
	slices.Sort(t.Others)
}

// usual is the size that half of the groups have at the most; 0 of none.
func usual(groups [][]int) int {
	sizes := make([]int, len(groups))
	for i, g := range groups {
		sizes[i] = len(g)
	}
	return median(sizes)
}

func median(sizes []int) int {
	if len(sizes) == 0 {
		return 0
	}
	slices.Sort(sizes)
	return sizes[(len(sizes)-1)/2]
}

// rounds finds walks round hot stops: four stops more than others have within two thirds
// of the spacing of one at or over the treat level. The stop itself stands for the place,
// as where the others were marked as extra. There are none where many places are hot.
func rounds(spacing, treatAt float64, at []orb.Point, values []float64, crowds []Together) (all []Together) {
	taken := make([]bool, len(at))
	for _, c := range crowds {
		taken[c.At] = true
		for _, i := range c.Others {
			taken[i] = true
		}
	}
	var hot, sizes []int
	near, round := newNeighbours(at), make([][]int, len(at))
	for i := range at {
		if taken[i] {
			continue
		}
		round[i] = near.within(i, roundStop*spacing)
		sizes = append(sizes, len(round[i])-1)
		if values[i] >= treatAt {
			hot = append(hot, i)
		}
	}
	most, hotPlaces := median(sizes), len(hot)
	slices.SortFunc(hot, func(a, b int) int {
		return cmp.Or(cmp.Compare(values[b], values[a]), before(at[a], at[b]))
	})
	for _, i := range hot {
		if taken[i] {
			continue
		}
		free := slices.DeleteFunc(slices.Clone(round[i]), func(k int) bool { return k == i || taken[k] })
		if len(free) < most+roundStops {
			continue
		}
		slices.SortFunc(free, func(a, b int) int {
			return cmp.Or(cmp.Compare(apart(at[a], at[i]), apart(at[b], at[i])), before(at[a], at[b]))
		})
		t := Together{At: i, Round: true, Spacing: spacing}
		t.of(free[:len(free)-most], at)
		taken[i] = true
		for _, k := range t.Others {
			taken[k] = true
		}
		all = append(all, t)
		hotPlaces -= len(slices.DeleteFunc(slices.Clone(t.Others), func(k int) bool { return values[k] < treatAt }))
	}
	if float64(hotPlaces) > mostHot*float64(len(sizes)) {
		return nil
	}
	return all
}

// spacingOf is the spacing of places.
func spacingOf(area float64, places []orb.Point) float64 {
	samples := make([]interp.Sample, len(places))
	for i, p := range places {
		samples[i] = interp.Sample{X: p[0], Y: p[1]}
	}
	return spacing(area, samples)
}

// neighbours finds stops near others, looking at those no farther in x alone.
type neighbours struct {
	at  []orb.Point
	byX []int
}

func newNeighbours(at []orb.Point) neighbours {
	n := neighbours{at, make([]int, len(at))}
	for i := range n.byX {
		n.byX[i] = i
	}
	slices.SortFunc(n.byX, func(a, b int) int { return cmp.Or(before(at[a], at[b]), a-b) })
	return n
}

// mostNear bounds how many stops are listed as near to one, so that no table is too large.
const mostNear = 2000

// within are the stops no farther than reach from one, itself among them, from west to east.
func (n neighbours) within(i int, reach float64) (all []int) {
	wide := reach * (1 + 1e-9)
	from, _ := slices.BinarySearchFunc(n.byX, n.at[i][0]-wide, func(k int, x float64) int { return cmp.Compare(n.at[k][0], x) })
	for _, k := range n.byX[from:] {
		if n.at[k][0] > n.at[i][0]+wide || len(all) == mostNear {
			break
		}
		if apart(n.at[k], n.at[i]) <= reach {
			all = append(all, k)
		}
	}
	return all
}

// groups part the stops: the one with the most others within reach takes these, and so on
// with those left.
func (n neighbours) groups(reach float64) (all [][]int) {
	near := make([][]int, len(n.at))
	for i := range n.at {
		near[i] = n.within(i, reach)
	}
	order := slices.Clone(n.byX)
	slices.SortStableFunc(order, func(a, b int) int { return len(near[b]) - len(near[a]) })
	taken := make([]bool, len(n.at))
	for _, i := range order {
		if taken[i] {
			continue
		}
		group := slices.DeleteFunc(near[i], func(k int) bool { return taken[k] })
		for _, k := range group {
			taken[k] = true
		}
		if !taken[i] { // beyond mostNear
			taken[i] = true
			group = append(group, i)
		}
		all = append(all, group)
	}
	return all
}

func apart(a, b orb.Point) float64 { return math.Hypot(a[0]-b[0], a[1]-b[1]) }

// before orders places from west to east, and from south to north.
func before(a, b orb.Point) int { return cmp.Or(cmp.Compare(a[0], b[0]), cmp.Compare(a[1], b[1])) }
