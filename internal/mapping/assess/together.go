package assess

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// What stops have to do to stand together. Our choices, no source.
const (
	atOnePlace  = 1.0 / 4 // of the spacing: how far from a stop a crowd is at its place
	crowdTimes  = 5       // as many stops as places usually hold are a crowd: a walk round a stop, and itself
	closePlace  = 1.0 / 5 // of how far the nearest other place usually is: so near a stop others are beside it
	evenPlace   = 1.0 / 4 // likewise where an even walk came back to a place: who goes on to the next is not so near,
	evenApart   = 1.0 / 2 // nor so many times as near as most places are to the nearest,
	leastEven   = 1       // with a tenth of them nearer
	firstShare  = 1.0 / 2 // of the mean of a crowd at least: the count of the first stop, if that stands for it
	closeTimes  = 2       // as many stops as places usually hold, so near, are one and others beside it,
	mostClose   = 1.0 / 8 // of the places, and
	fewClose    = 3       // or no more: a second scout went to more
	mostAlone   = 8       // tenths of the places: the nearest is no farther from them than the spacing
	mostNearest = 1.5     // of the spacing: how far the nearest place is looked for
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
// for no place as extra. It looks again at those left, since they stand farther apart.
func markTogether(area, treatAt float64, stops []Stop) []Together {
	some := make([]stood, len(stops))
	for i := range stops {
		some[i] = stoodOf(&stops[i].Stop, stops[i].XY, stops[i].Value)
	}
	all := standTogether(area, treatAt, some)
	for i, s := range some {
		stops[i].Extra = s.extra
	}
	return all
}

// stood is what tells of a stop whether it stands together with others. A survey's stop
// has five times as much, and of long tables there are many.
type stood struct {
	xy             orb.Point // metres
	value          float64
	extra, planned bool
	order          order
}

func stoodOf(s *survey.Stop, xy orb.Point, value float64) stood {
	return stood{xy, value, s.Extra, s.Planned, orderOf(s)}
}

// standTogether is markTogether of what that asks stops for.
func standTogether(area, treatAt float64, stops []stood) (all []Together) {
	at := make([]orb.Point, len(stops))
	for i, s := range stops {
		at[i] = s.xy
	}
	near := newNeighbours(at)
	for more := together(area, treatAt, stops, near); len(more) > 0; more = together(area, treatAt, stops, near) {
		for _, t := range more {
			all = joined(all, t)
			for _, i := range t.Others {
				stops[i].extra = true
			}
		}
	}
	return all
}

// joined adds one to those found before, with all of what stood for its own place or for
// that of one of its others.
func joined(all []Together, t Together) []Together {
	all = slices.DeleteFunc(all, func(before Together) bool {
		same := before.At == t.At || slices.Contains(t.Others, before.At)
		if same {
			t.Others, t.Within, t.Round = append(t.Others, before.Others...), max(t.Within, before.Within), t.Round || before.Round
		}
		return same
	})
	slices.Sort(t.Others)
	return append(all, t)
}

// together finds the planned stops that stand together, of which all are neighbours.
func together(area, treatAt float64, stops []stood, all neighbours) []Together {
	at, counts := make([]orb.Point, 0, len(stops)), counted{
		treatAt: treatAt, values: make([]float64, 0, len(stops)), planned: make([]bool, 0, len(stops)), order: make([]order, 0, len(stops)),
	}
	of := make([]int, 0, len(stops)) // numbers of those not marked as extra
	planned := make([]bool, len(stops))
	for i, s := range stops {
		if planned[i] = !s.extra; planned[i] {
			at, of = append(at, s.xy), append(of, i)
			counts.values, counts.planned = append(counts.values, s.value), append(counts.planned, s.planned)
			counts.order = append(counts.order, s.order)
		}
	}
	if len(at) < closeTimes {
		return nil
	}
	near := all.only(planned)
	p := near.parted(area)
	beside := func(found []Together) []Together {
		found = p.beside(atOnePlace*p.spacing, crowdTimes, near, at, counts, found)
		found = p.beside(p.close, closeTimes, near, at, counts, found)
		return p.cameBack(near, at, counts, found)
	}
	found := beside(p.rounds(near, at, counts))
	if manyHot(found, treatAt, counts.values) {
		found = beside(nil)
	}
	for i := range found {
		t := &found[i]
		t.At = of[t.At]
		for k := range t.Others {
			t.Others[k] = of[t.Others[k]]
		}
	}
	return found
}

// counted is what stops counted, which of them were marked as planned, and in which order
// they were walked.
type counted struct {
	treatAt float64
	values  []float64
	planned []bool
	order   []order
}

// anyPlanned are the marked ones of a group of stops; all of it where none is.
func (c counted) anyPlanned(group []int) []int {
	some := slices.DeleteFunc(slices.Clone(group), func(i int) bool { return !c.planned[i] })
	if len(some) == 0 {
		return group
	}
	return some
}

// parted is how stops part into places.
type parted struct {
	spacing float64 // metres, of the places
	close   float64 // metres: who stands so near a stop is beside it
	even    float64 // metres, no less: who came back so near to it is too
	usual   int     // stops that half of the places hold at the most
}

// beside finds stops that stand within reach of each other and are so many times as many as
// places usually hold: so stops along a line, two or twenty at every place, or more in a half
// of the field are none. The one that stands for them is the one marked as planned, or of
// such, or of all where none is, that with the least count that is no less than their mean,
// so that no place counts for less than it is, and copies of one stop count as that stop.
// A few beside a stop marked as planned take in no other that is; where few are beside stops
// at many places, a second scout was there, whose counts are worth as much.
func (p parted) beside(reach float64, times int, near neighbours, at []orb.Point, counts counted, found []Together) []Together {
	taken, groups := takenBy(found, len(at)), near.groups(near.nearPlaces(reach))
	many := groups[:0:0]
	for _, g := range groups {
		g = slices.DeleteFunc(g, func(i int) bool { return taken[i] })
		if len(g) >= max(closeTimes, times*p.usual) {
			many = append(many, g)
		}
	}
	if times < crowdTimes && float64(len(many)) > max(fewClose, mostClose*float64(len(groups))) {
		return found
	}
	for _, g := range many {
		t := crowdOf(g, at, counts)
		if times < crowdTimes && counts.planned[t.At] {
			t = Together{At: t.At}
			t.of(slices.DeleteFunc(g, func(i int) bool { return counts.planned[i] }), at)
		}
		if t.Spacing = p.spacing; len(t.Others) > 0 {
			found = append(found, t)
		}
	}
	return found
}

// cameBack finds hot stops near which the walk came back after stops elsewhere: who goes on
// to the next has no stop walked between them, as where the legs of a W meet.
func (p parted) cameBack(near neighbours, at []orb.Point, counts counted, found []Together) []Together {
	if p.even <= p.close || p.usual > 1 {
		return found
	}
	ranks, taken := counts.ranks(), takenBy(found, len(at))
	if ranks == nil {
		return found
	}
	for _, g := range near.groups(near.nearPlaces(p.even)) {
		g = slices.DeleteFunc(g, func(i int) bool { return taken[i] })
		if len(g) < closeTimes {
			continue
		}
		first := counts.first(counts.anyPlanned(g))
		if first < 0 || counts.values[first] < counts.treatAt {
			continue
		}
		if last := slices.MaxFunc(g, func(a, b int) int { return ranks[a] - ranks[b] }); ranks[last]-ranks[first] < len(g) {
			continue
		}
		t := Together{At: first, Spacing: p.spacing}
		t.of(slices.DeleteFunc(g, func(i int) bool { return counts.planned[first] && counts.planned[i] }), at)
		if len(t.Others) > 0 {
			found = append(found, t)
		}
	}
	return found
}

// parted parts the stops of a field of so many m² into places: the fewest for which a place
// is about as wide as stops beside each other may be apart, since a crowd makes the spacing
// of all stops small. That is no less than how far most places are from the nearest: so
// circles round some of them make it no smaller. Of stops at random the nearest is nearer.
func (n neighbours) parted(area float64) (p parted) {
	reach := atOnePlace * math.Sqrt(area/float64(max(fewPlaces, len(n.at)/mostAtPlace)))
	for {
		groups := n.groups(n.nearPlaces(reach))
		stand := make([]bool, len(n.at)) // which stops stand for a place
		for _, g := range groups {
			stand[g[0]] = true
		}
		places := n.only(stand)
		spacing := spacingOf(area, places.at)
		nearest := places.nearest(mostNearest * spacing)
		p = parted{max(spacing, nearest[len(nearest)*mostAlone/10]), closePlace * median(nearest), evenOf(nearest), usual(groups)}
		if !(p.even < 0.95*reach) {
			return p
		}
		reach = p.even
	}
}

// evenOf is how near a stop others are at its place on an even walk, by the ascending
// distances of places to the nearest: none is so near there by chance. On others it is how
// near stops are beside it.
func evenOf(nearest []float64) float64 {
	usual := median(nearest)
	return max(closePlace*usual, min(evenPlace*usual, evenApart*nearest[len(nearest)*leastEven/10]))
}

// crowdOf is a group of stops as a crowd. The one that was walked first stands for it, as
// where the others were marked as extra, unless it is much colder than they are; of a few
// whose order is not known the one that its place says, since the higher of two honest
// counts is too high. Else, of equal counts the one nearest to the first of the group does.
func crowdOf(group []int, at []orb.Point, counts counted) Together {
	var sum float64
	of, values := counts.anyPlanned(group), counts.values
	for _, i := range of {
		sum += values[i]
	}
	// A hair less, so that as many equal counts are no less than their mean.
	mean := sum / float64(len(of)) * (1 - 1e-12)
	first := counts.first(of)
	if any := slices.MinFunc(of, func(a, b int) int { return before(at[a], at[b]) }); first < 0 && len(of) < crowdTimes && values[any] >= firstShare*mean {
		first = any
	}
	if first >= 0 {
		t := Together{At: first}
		t.of(group, at)
		return t
	}
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

// median is the lower one of some values, 0 of none.
func median[T int | float64](all []T) T {
	if len(all) == 0 {
		return 0
	}
	slices.Sort(all)
	return all[(len(all)-1)/2]
}

// spacingOf is the spacing of places from west to east.
func spacingOf(area float64, places []orb.Point) float64 {
	return spacing(area, len(places), slices.Compact(slices.Clone(places)))
}
