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
	fewPlaces   = 5       // and as many as there may be for twenty stops each, at which places are looked for first
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
	at, counts := make([]orb.Point, 0, len(stops)), counted{}
	var of []int // numbers of those not marked as extra
	for i, s := range stops {
		if !s.Extra {
			at, of = append(at, s.XY), append(of, i)
			counts.values, counts.planned = append(counts.values, s.Value), append(counts.planned, s.Planned)
		}
	}
	near := newNeighbours(at)
	all, spacing := crowded(area, near, at, counts)
	all = append(all, rounds(spacing, treatAt, near, at, counts, all)...)
	all = append(all, besidePlanned(spacing, near, at, counts, all)...)
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
// count that is no less than their mean, so that no place counts for less than it is, and
// copies of one stop count as that stop.
func crowded(area float64, near neighbours, at []orb.Point, counts counted) (all []Together, spacing float64) {
	if len(at) == 0 {
		return nil, math.NaN()
	}
	groups := near.parted(area, at)
	least := crowdTimes * usual(groups)
	if spacing = spacingOf(area, apartFrom(groups, least, at)); !slices.ContainsFunc(groups, func(g []int) bool { return len(g) >= least }) {
		return nil, spacing
	}
	for _, g := range near.groups(near.near(atOnePlace * spacing)) {
		if len(g) >= least {
			t := crowdOf(g, at, counts)
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
		groups = n.groups(n.near(reach))
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
func crowdOf(group []int, at []orb.Point, counts counted) Together {
	var sum float64
	of, values := counts.anyPlanned(group), counts.values
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

// spacingOf is the spacing of places.
func spacingOf(area float64, places []orb.Point) float64 {
	samples := make([]interp.Sample, len(places))
	for i, p := range places {
		samples[i] = interp.Sample{X: p[0], Y: p[1]}
	}
	return spacing(area, samples)
}
