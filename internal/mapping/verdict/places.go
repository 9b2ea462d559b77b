package verdict

import (
	"math"

	"github.com/geocoris/geocoris/internal/geometry/nearby"
	"github.com/geocoris/geocoris/internal/mapping/fieldstats"
	"github.com/geocoris/geocoris/internal/scouting/layout"
)

// A place is a planned stop with the extra stops that stand round it: however many of
// these are hot, they tell of one place.
type place []int // numbers of its stops

// asFar is how many times as far as from the nearest planned stop an extra one may stand
// from a hot one to be of a walk round it: a walk goes half the way to the next stop, and
// phones are off. Our choice, no source.
const asFar = 2

// placesOf parts stops into places: an extra stop goes to the nearest planned one, or to a
// nearest hot one that is no more than twice as far. Where none was planned each is one.
func placesOf(stops []fieldstats.Stop, level float64) []place {
	var all []place
	for i, s := range stops {
		if !s.Extra {
			all = append(all, place{i})
		}
	}
	if len(all) == 0 {
		for i := range stops {
			all = append(all, place{i})
		}
		return all
	}
	planned := make([]fieldstats.Stop, len(all))
	for k, p := range all {
		planned[k] = stops[p[0]]
	}
	cells := nearby.Of(positions(planned), 0)
	for i, s := range stops {
		if !s.Extra {
			continue
		}
		nearest, least := cells.Nearest(s.X, s.Y)
		hot, leastHot := -1, asFar*least
		for k := range cells.Near(s.X, s.Y, leastHot) {
			d := apart(planned[k], s)
			if planned[k].Value >= level && (d < leastHot || d == leastHot && (hot < 0 || k < hot)) {
				hot, leastHot = k, d
			}
		}
		if hot >= 0 {
			nearest = hot
		}
		all[nearest] = append(all[nearest], i)
	}
	return all
}

// positions are those of stops.
func positions(stops []fieldstats.Stop) [][2]float64 {
	at := make([][2]float64, len(stops))
	for i, s := range stops {
		at[i] = [2]float64{s.X, s.Y}
	}
	return at
}

func apart(a, b fieldstats.Stop) float64 { return math.Hypot(a.X-b.X, a.Y-b.Y) }

// hottest is the hottest stop of a place inside the edge strip; below 0 where none there
// is at or above a level. hot is how many are.
func (p place) hottest(stops []fieldstats.Stop, level float64) (at, hot int) {
	at = -1
	for _, i := range p {
		if s := stops[i]; s.Inside >= fieldstats.EdgeStrip && s.Value >= level {
			hot++
			if at < 0 || s.Value > stops[at].Value {
				at = i
			}
		}
	}
	return at, hot
}

// round are the values of a place's stops round one of them: what is nearer than
// [layout.SamePlace] tells nothing of the ground round it.
func (p place) round(stops []fieldstats.Stop, at int) (values []float64) {
	for _, i := range p {
		if i != at && apart(stops[i], stops[at]) >= layout.SamePlace {
			values = append(values, stops[i].Value)
		}
	}
	return values
}

// fewRound is how many of the stops round a hot one may be hot for it to be one bad place,
// and ofRound which part of more than four. Of two, with the hot one in their middle, most
// of a walk of four is hot: that is ground, not a place. One may stand on another bad place.
// Our choice, no source.
const (
	fewRound = 1
	ofRound  = 1.0 / 4
)

// patchy reports that stops round a hot one are hot as well, on average or more of them
// than may be round one bad place: three hot ones of four are no less so where the fourth
// takes their mean below the level.
func patchy(round []float64, level float64) bool {
	hot := 0
	for _, v := range round {
		if v >= level {
			hot++
		}
	}
	return fieldstats.Mean(round) >= level || float64(hot) > max(fewRound, ofRound*float64(len(round)))
}

// places takes in which hot stops inside stand together, and what was found round them.
func (g *Figures) places(stops []fieldstats.Stop, s Settings) {
	g.Beside, g.Walked, g.Patches, g.Begun, g.toWalk = 0, 0, 0, 0, nil
	for _, p := range placesOf(stops, g.Treat) {
		at, hot := p.hottest(stops, g.Treat)
		if at < 0 {
			continue
		}
		g.Beside += hot - 1
		round := p.round(stops, at)
		if len(round) >= s.WithDefaults().LeastInside {
			g.Walked++
		} else {
			g.toWalk, g.Begun = append(g.toWalk, at), g.Begun+len(round)
		}
		if patchy(round, g.Treat) {
			g.Patches++
		}
	}
	g.MeanWithout = withoutHottest(stops)
}

// withoutHottest is the mean of the planned stops, or that of those inside where it is
// larger, without the hottest one inside; NaN of fewer than two.
func withoutHottest(stops []fieldstats.Stop) float64 {
	var of []fieldstats.Stop
	hottest, extra := -1, len(stops) > 0
	for _, s := range stops {
		extra = extra && s.Extra
	}
	for _, s := range stops {
		if s.Extra && !extra {
			continue
		}
		of = append(of, s)
		if s.Inside >= fieldstats.EdgeStrip && (hottest < 0 || s.Value > of[hottest].Value) {
			hottest = len(of) - 1
		}
	}
	var all, inside []float64
	for i, s := range of {
		if i == hottest {
			continue
		}
		all = append(all, s.Value)
		if s.Inside >= fieldstats.EdgeStrip {
			inside = append(inside, s.Value)
		}
	}
	if len(inside) == 0 {
		return fieldstats.Mean(all)
	}
	return max(fieldstats.Mean(all), fieldstats.Mean(inside))
}

// hotPlaces is how many places inside are over the threshold.
func (g Figures) hotPlaces() int { return g.OverInside - g.Beside }

// unwalked is how many of these are still to be walked round: of as many as are few.
func (g Figures) unwalked() int { return max(0, min(g.hotPlaces(), fewOver)-g.Walked) }

// byOne reports that few places are hot, and the mean of the field, not surely over, is
// at or above the threshold by the hottest stop alone.
func (g Figures) byOne() bool {
	few := g.hotPlaces() > 0 && g.hotPlaces() <= fewOver
	return few && g.meanAt() && straddles(g) && g.MeanWithout < g.Treat
}

// meanAt reports that the mean of all stops, or of those inside, is at or above the
// threshold.
func (g Figures) meanAt() bool {
	return g.Stats.Mean >= g.Treat || g.Stats.Edge.InteriorMean >= g.Treat
}

// single reports that who walked round the stop by which the mean is over found a single
// place.
func (g Figures) single() bool { return g.byOne() && g.unwalked() == 0 && g.Patches == 0 }
