package verdict

import (
	"math"

	"github.com/geocoris/geocoris/internal/mapping/fieldstats"
)

// A place is a planned stop with the extra stops that stand nearer to it than to any
// other planned one: however many of these are hot, they tell of one place.
type place []int // numbers of its stops

// placesOf parts stops into places; where none was planned each is one.
func placesOf(stops []fieldstats.Stop) []place {
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
	for i, s := range stops {
		if !s.Extra {
			continue
		}
		nearest, least := 0, math.Inf(1)
		for k, p := range all {
			if d := math.Hypot(stops[p[0]].X-s.X, stops[p[0]].Y-s.Y); d < least {
				nearest, least = k, d
			}
		}
		all[nearest] = append(all[nearest], i)
	}
	return all
}

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

// others is the mean of a place's stops but one; NaN of none.
func (p place) others(stops []fieldstats.Stop, but int) float64 {
	var values []float64
	for _, i := range p {
		if i != but {
			values = append(values, stops[i].Value)
		}
	}
	return fieldstats.Mean(values)
}

// places takes in which hot stops inside stand together, and what was found round them.
func (g *Figures) places(stops []fieldstats.Stop, s Settings) {
	g.Beside, g.Walked, g.Patches, g.Begun, g.toWalk = 0, 0, 0, 0, nil
	for _, p := range placesOf(stops) {
		at, hot := p.hottest(stops, g.Treat)
		if at < 0 {
			continue
		}
		g.Beside += hot - 1
		if len(p)-1 >= s.WithDefaults().LeastInside {
			g.Walked++
		} else {
			g.toWalk, g.Begun = append(g.toWalk, at), g.Begun+len(p)-1
		}
		if p.others(stops, at) >= g.Treat {
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
