package verdict

import (
	"math"

	"github.com/geocoris/geocoris/internal/geometry/nearby"
	"github.com/geocoris/geocoris/internal/mapping/fieldstats"
)

// bornOut is the part of the highest count that another stop has at the least to bear it
// out. A digit too many is ten times as much, and few fields vary so between their two
// highest stops (our choice, no source; with a third 0.005 more are undecided).
const bornOut = 1.0 / 6

// nearSpacings is how far from a hot stop another bears it out so that it may be left, in
// spacings of the stops: on a grid two off and one beside, not two off both ways. What
// stands farther tells nothing of the ground round it (our choice, no source; with 2 there
// are 0.003 more undecided).
const nearSpacings = 2.5

// bearOut takes in how well other stops near them bear out the hot ones that are to be
// walked round.
func (g *Figures) bearOut(stops []fieldstats.Stop) {
	g.Next, g.Borne = secondHighest(stops), math.NaN()
	near := nearSpacings * math.Sqrt(perStop(*g))
	cells := nearby.Of(positions(stops), near)
	for _, i := range g.toWalk {
		part := highestNear(stops, cells, i, near) / stops[i].Value
		if !(part >= g.Borne) {
			g.Borne = part
		}
	}
}

// highestNear is the highest count within a distance of a stop, but for its own; 0 of
// none.
func highestNear(stops []fieldstats.Stop, cells *nearby.Cells, at int, near float64) (highest float64) {
	for i := range cells.Near(stops[at].X, stops[at].Y, near) {
		if s := stops[i]; s.Value > highest && i != at && apart(s, stops[at]) <= near {
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
