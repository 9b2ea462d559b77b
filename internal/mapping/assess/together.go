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
	besidePlace = 1.0 / 10 // of the spacing: how far from a stop marked as planned an unmarked one is of its place
	atOnePlace  = 1.0 / 4  // of the spacing: how far from a stop others are at its place
	crowdTimes  = 5        // as many stops as places usually hold are a crowd: a walk round a stop, and itself
	roundStop   = 2.0 / 3  // of the spacing: how far from a stop a walk round it goes, a half and what phones are off by
	roundStops  = 4        // as many more than others have so near are a walk round a stop
	mostHot     = 1.0 / 4  // of the places: where more are hot, nobody walks round each
	roundWidest = 7.0 / 6  // of π: the widest angle without any stop of a walk round, at the edge a half and an error
	fewPlaces   = 5        // and as many as there may be for twenty stops each, at which places are looked for first
	mostAtPlace = 20
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
	at, told := make([]orb.Point, 0, len(stops)), counted{}
	var of []int // numbers of those not marked as extra
	for i, s := range stops {
		if !s.Extra {
			at, of = append(at, s.XY), append(of, i)
			told.values, told.planned = append(told.values, s.Value), append(told.planned, s.Planned)
		}
	}
	all, spacing := crowded(area, at, told)
	all = append(all, rounds(spacing, treatAt, at, told, all)...)
	all = append(all, besidePlanned(spacing, at, told, all)...)
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

// counted is what stops counted, and which of them were marked as planned.
type counted struct {
	values  []float64
	planned []bool
}

// anyPlanned are the marked ones of a group of stops; all of it where none is.
func (c counted) anyPlanned(group []int) []int {
	some := slices.DeleteFunc(slices.Clone(group), func(i int) bool { return !c.planned[i] })
	if len(some) == 0 {
		return group
	}
	return some
}

// crowded finds the crowds of stops in a field of so many m²: five times as many stops as
// places usually hold within a quarter of the spacing of one, and the spacing of places in
// metres. So stops along a line, two or twenty at every place, or more in a half of the
// field are none: there a place usually holds as many. The stop that stands for a crowd
// is the one marked as planned, or of such, or of all where none is, that with the least
// count that is no less than their mean, so that a place is never told lower than it is,
// and copies of one stop are told as it.
func crowded(area float64, at []orb.Point, told counted) (all []Together, spacing float64) {
	if len(at) == 0 {
		return nil, math.NaN()
	}
	near := newNeighbours(at)
	groups := near.parted(area, at)
	least := crowdTimes * usual(groups)
	if spacing = spacingOf(area, apartFrom(groups, least, at)); !slices.ContainsFunc(groups, func(g []int) bool { return len(g) >= least }) {
		return nil, spacing
	}
	for _, g := range near.groups(atOnePlace * spacing) {
		if len(g) >= least {
			t := crowdOf(g, at, told)
			t.Spacing = spacing
			all = append(all, t)
		}
	}
	return all, spacing
}

// apartFrom are the places of all stops, but of one for each group of so many or more.
func apartFrom(groups [][]int, least int, at []orb.Point) (places []orb.Point) {
	for _, g := range groups {
		if len(g) >= least {
			g = g[:1]
		}
		for _, i := range g {
			places = append(places, at[i])
		}
	}
	return places
}

// parted parts the stops of a field of so many m² into places, a quarter of their own
// spacing wide to each side: the fewest for which that nearly holds, since a crowd
// makes the spacing of all stops small.
func (n neighbours) parted(area float64, at []orb.Point) (groups [][]int) {
	reach := atOnePlace * math.Sqrt(area/float64(max(fewPlaces, len(at)/mostAtPlace)))
	for {
		groups = n.groups(reach)
		places := make([]orb.Point, len(groups))
		for i, g := range groups {
			places[i] = at[g[0]]
		}
		next := atOnePlace * spacingOf(area, places)
		if !(next < 0.95*reach) {
			return groups
		}
		reach = next
	}
}

// crowdOf is a group of stops as a crowd; of equal counts the one nearest to the first of
// the group stands for it.
func crowdOf(group []int, at []orb.Point, told counted) Together {
	var sum float64
	of, values := told.anyPlanned(group), told.values
	for _, i := range of {
		sum += values[i]
	}
	// A hair less, so that as many equal counts are no less than their mean.
	mean := sum / float64(len(of)) * (1 - 1e-12)
	enough := slices.DeleteFunc(slices.Clone(of), func(i int) bool { return values[i] < mean })
	t := Together{At: slices.MinFunc(enough, func(a, b int) int {
		return cmp.Or(cmp.Compare(values[a], values[b]), cmp.Compare(apart(at[a], at[group[0]]), apart(at[b], at[group[0]])), before(at[a], at[b]))
	})}
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
// as where the others were marked as extra. There are none where many places are hot, and
// who marked stops as planned walked round these alone, with unmarked ones.
func rounds(spacing, treatAt float64, at []orb.Point, told counted, crowds []Together) (all []Together) {
	values := told.values
	taken := takenBy(crowds, len(at))
	var hot, sizes []int
	round := newNeighbours(at).near(roundStop * spacing)
	for i := range at {
		if taken[i] {
			continue
		}
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
			return cmp.Or(told.unmarkedFirst(a, b), cmp.Compare(apart(at[a], at[i]), apart(at[b], at[i])), before(at[a], at[b]))
		})
		free = told.walk(i, free[:len(free)-most])
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
		hotPlaces -= len(slices.DeleteFunc(slices.Clone(t.Others), func(k int) bool { return values[k] < treatAt }))
	}
	if float64(hotPlaces) > mostHot*float64(len(sizes)) {
		return nil
	}
	return all
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
	number []int       // of the stops from west to east
	at     []orb.Point // likewise
}

func newNeighbours(at []orb.Point) neighbours {
	n := neighbours{make([]int, len(at)), make([]orb.Point, len(at))}
	for i := range at {
		n.number[i] = i
	}
	slices.SortFunc(n.number, func(a, b int) int { return cmp.Or(before(at[a], at[b]), a-b) })
	for k, i := range n.number {
		n.at[k] = at[i]
	}
	return n
}

// mostLooked bounds how many stops are listed for all of them, and leastNear how few for
// one: where so many stand in a heap, who of them has most others near is not found out.
const (
	mostLooked = 20_000_000
	leastNear  = 100
)

// within are the ranks from the west of the stops no farther than reach from the one of a
// rank, itself among them.
func (n neighbours) within(rank int, reach float64) (all []int) {
	p, wide := n.at[rank], reach*(1+1e-9) // for rounding
	most := max(leastNear, mostLooked/len(n.at))
	from, _ := slices.BinarySearchFunc(n.at[:rank], p[0]-wide, func(q orb.Point, x float64) int { return cmp.Compare(q[0], x) })
	for k := from; k < len(n.at) && n.at[k][0] <= p[0]+wide && len(all) < most; k++ {
		if math.Abs(n.at[k][1]-p[1]) <= wide && apart(n.at[k], p) <= wide {
			all = append(all, k)
		}
	}
	return all
}

// near are the numbers of the stops no farther than reach from each.
func (n neighbours) near(reach float64) [][]int {
	all := make([][]int, len(n.at))
	for rank, i := range n.number {
		all[i] = n.within(rank, reach)
		for k, r := range all[i] {
			all[i][k] = n.number[r]
		}
	}
	return all
}

// groups part the stops: the one with the most others within reach takes these, and so on
// with those left. The one that took the others comes first.
func (n neighbours) groups(reach float64) (all [][]int) {
	near := n.near(reach)
	order := slices.Clone(n.number)
	slices.SortStableFunc(order, func(a, b int) int { return len(near[b]) - len(near[a]) })
	taken := make([]bool, len(n.at))
	for _, i := range order {
		if taken[i] {
			continue
		}
		taken[i] = true
		group := []int{i}
		for _, k := range near[i] {
			if !taken[k] {
				taken[k] = true
				group = append(group, k)
			}
		}
		all = append(all, group)
	}
	return all
}

func apart(a, b orb.Point) float64 { return math.Hypot(a[0]-b[0], a[1]-b[1]) }

// before orders places from west to east, and from south to north.
func before(a, b orb.Point) int { return cmp.Or(cmp.Compare(a[0], b[0]), cmp.Compare(a[1], b[1])) }
