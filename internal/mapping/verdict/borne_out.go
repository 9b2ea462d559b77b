package verdict

import (
	"cmp"
	"math"
	"slices"

	"github.com/geocoris/geocoris/internal/mapping/fieldstats"
	"github.com/geocoris/geocoris/internal/sorted"
)

// bornOut is the part of the highest count that another stop has at the least to bear it
// out. A digit too many is ten times as much, and few fields vary so between their two
// highest stops (our choice, no source; with a third 0.005 more are undecided).
const bornOut = 1.0 / 6

// nearby is how far from a hot stop another bears it out so that it may be left, in
// spacings of the stops: on a grid two off and one beside, not two off both ways. What
// stands farther tells nothing of the ground round it (our choice, no source; with 2 there
// are 0.003 more undecided).
const nearby = 2.5

// bearOut takes in how well other stops near them bear out the hot ones that are to be
// walked round.
func (g *Figures) bearOut(stops []fieldstats.Stop) {
	g.Next, g.Borne = secondHighest(stops), math.NaN()
	near := nearby * math.Sqrt(perStop(*g))
	byX := fromWest(stops)
	for _, i := range g.toWalk {
		part := highestNear(stops, byX, i, near) / stops[i].Value
		if !(part >= g.Borne) {
			g.Borne = part
		}
	}
}

// fromWest numbers the stops from west to east.
func fromWest(stops []fieldstats.Stop) []int {
	byX := make([]int, len(stops))
	for i := range byX {
		byX[i] = i
	}
	sorted.By(byX, func(a, b int) int { return cmp.Compare(stops[a].X, stops[b].X) })
	return byX
}

// highestNear is the highest count within a distance of a stop, but for its own; 0 of
// none. It looks at the stops that are no farther in x alone.
func highestNear(stops []fieldstats.Stop, byX []int, at int, near float64) (highest float64) {
	x, y, wide := stops[at].X, stops[at].Y, near*(1+1e-9) // for rounding
	from, _ := slices.BinarySearchFunc(byX, x-wide, func(i int, x float64) int { return cmp.Compare(stops[i].X, x) })
	for _, i := range byX[from:] {
		s := stops[i]
		if s.X > x+wide {
			break
		}
		if s.Value > highest && i != at && math.Hypot(s.X-x, s.Y-y) <= near {
			highest = s.Value
		}
	}
	return highest
}

// secondHighest is what the highest stop but one counted; NaN of one stop.
func secondHighest(stops []fieldstats.Stop) float64 {
	highest, next := math.NaN(), math.NaN()
	for _, s := range stops {
		switch {
		case !(s.Value <= highest):
			highest, next = s.Value, highest
		case !(s.Value <= next):
			next = s.Value
		}
	}
	return next
}

// alone reports that no other stop, wherever it stands, bears out the highest: a digit too
// many looks just so.
func (f Figures) alone() bool { return !(f.Next >= bornOut*f.Stats.Max) }

// borneOut reports that a stop near it bears out each hot one that is to be walked round: a
// count at the other end of the field is no reason to leave one.
func (f Figures) borneOut() bool { return f.Borne >= bornOut }
