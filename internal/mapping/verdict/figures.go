package verdict

import (
	"math"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/geometry/zones"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/mapping/decision"
	"github.com/geocoris/geocoris/internal/mapping/fieldstats"
	"github.com/geocoris/geocoris/internal/recall"
	"github.com/geocoris/geocoris/internal/scouting/layout"
)

// Figures are what the table goes by.
type Figures struct {
	Stats fieldstats.Summary
	// Low and High hold the mean: the interval of Stats, or the mean itself where
	// all stops say the same, or 0 and +Inf where stops are too few, or of too small a part of the
	// field, to tell.
	Low, High float64
	// InsideLow is as Low, of the stops inside the edge strip; NaN where fewer than
	// three tell, or their mean is below the level anyway.
	InsideLow float64
	Treat     float64 // levels
	Watch     float64
	Doubling  float64 // days; 0 where not known

	Area, TreatArea, WatchArea, Unscouted float64 // m²
	Added                                 float64 // m² of treat ground beyond a cut at the treat level, below 0 where it is less; NaN where no chances tell
	TreatMean, WatchMean                  float64 // of the surface; NaN without such ground
	RestMean                              float64 // of the surface outside the treat zone; NaN without any

	Believed   bool
	Skill      float64
	Over       int // stops at or above the treat level
	OverInside int // of them inside the edge strip
	// Beside are those of OverInside that stand for no place of their own: the rest of a
	// planned stop with the extra ones round it. Of places with a hot stop inside, Walked
	// have a walk round them, and Patches are hot without their hottest stop, as [patchy] tells.
	Beside, Walked, Patches int
	Begun                   int      // extra stops at the others of these places
	HotInside               []string // names of the hottest stops of places that were not walked round
	HotEdge                 []string // names of the stops over the threshold on the edge
	// MeanWithout is the mean, the larger of all and of those inside, without the hottest stop
	// inside; NaN of fewer than two stops.
	MeanWithout float64
	Warm        int     // stops at or above the watch level
	Next        float64 // the second highest of all stops; NaN of one
	// Borne is the highest count near a hot stop of HotInside as a part of its own, the least
	// of them all; NaN of none.
	Borne float64

	// Sums are what each choice is expected to cost, in treatments times m², PaysAt being
	// the density at which a treatment pays; zero where nothing is known.
	Sums   decision.Sums
	PaysAt float64
	Margin float64 // m by which the zone was grown as asked; the sums leave that out

	Costs  *Costs
	Needed float64 // stops in all that would part the mean from the treat level
	Reach  float64 // metres, of the stops that reach least far

	toWalk []int         // numbers of the stops of HotInside
	layout layout.Layout // how the stops lie over the field; none where not given
}

// FiguresOf gathers the figures of a scouted field.
func FiguresOf(f *assess.Field, r *assess.Result, s Settings) Figures {
	stops := stopsOf(f, r.Statistic)
	g := Figures{
		Treat: r.Levels.TreatAt, Watch: r.Levels.WatchAt, Doubling: r.Levels.Doubling, Area: f.Area, Unscouted: f.Map.Unscouted,
		Believed: f.Trust.Believed(), Skill: f.Trust.Score.Skill, Reach: f.Settings.LeastReach, Added: math.NaN(),
		layout: f.Layout,
	}
	if f.Chance != nil {
		g.Added = f.Chance.Added
	}
	g.Margin = f.Settings.Margin - f.Settings.Growth.Margin
	g.zones(f)
	g.slivers(f.Settings.MinArea)
	losses := make(chan []decision.Place, 1) // of some thousand places, beside what the stops say
	go func() { losses <- f.Losses(s.Money.paysAt(g.Treat)) }()
	g.count(stops, f.Settings.Reach, s)
	g.weigh(<-losses, s)
	for _, i := range g.toWalk {
		g.HotInside = append(g.HotInside, f.Stops[i].Name)
	}
	for i, stop := range stops {
		if stop.Value >= g.Treat && stop.Inside < fieldstats.EdgeStrip {
			g.HotEdge = append(g.HotEdge, f.Stops[i].Name)
		}
	}
	return g
}

// count takes in what the stops say; near is as for [fieldstats.Settings.Describe].
func (g *Figures) count(stops []fieldstats.Stop, near float64, s Settings) {
	g.Stats = s.described(stops, near)
	partial := g.partial()
	if partial {
		g.Stats = g.Stats.Over(g.layout)
	}
	g.Low, g.High = g.Stats.Interval.Low, g.Stats.Interval.High
	if !g.Stats.Interval.Known() {
		g.Low, g.High = g.Stats.Mean, g.Stats.Mean
		if g.Stats.Places() < fieldstats.LeastStops || partial {
			g.Low, g.High = 0, math.Inf(1)
		}
	}
	g.InsideLow = math.NaN()
	if g.Stats.Edge.InteriorMean >= g.Treat {
		g.InsideLow = insideLow(stops, s.Statistics)
	}
	g.Warm, g.Over, g.OverInside = 0, 0, 0
	for _, stop := range stops {
		if stop.Value >= g.Watch {
			g.Warm++
		}
		if stop.Value >= g.Treat {
			g.Over++
			if stop.Inside >= fieldstats.EdgeStrip {
				g.OverInside++
			}
		}
	}
	g.places(stops, s)
	g.bearOut(stops)
	g.Needed = g.Stats.StopsToSettle(g.Treat)
	if s.Money != nil {
		c := s.Money.costs(*g)
		g.Costs = &c
	}
}

// described is [fieldstats.Settings.Describe].
func (s Settings) described(stops []fieldstats.Stop, near float64) fieldstats.Summary {
	key := recall.For("described").Count(int(s.Statistics.Seed)).Count(s.Statistics.Resamples).Numbers(s.Statistics.Level, near)
	for _, stop := range stops {
		key.Truths(stop.Found, stop.Extra).Numbers(stop.X, stop.Y, stop.Value, stop.Units, stop.Hits, stop.Infested, stop.Inside)
	}
	d, _ := recall.Of(s.Memory, key, func() (fieldstats.Summary, error) { return s.Statistics.Describe(stops, near), nil })
	return d
}

// partial reports that the stops stand in a part of the field, as far as that is known.
func (g Figures) partial() bool { return g.layout.Stops > 0 && g.layout.Partial() }

// insideLow is the low end of the mean of the stops inside the edge strip, or the mean
// where all say the same.
func insideLow(stops []fieldstats.Stop, s fieldstats.Settings) float64 {
	var all []fieldstats.Stop
	for _, stop := range stops {
		if stop.Inside >= fieldstats.EdgeStrip && !stop.Extra {
			all = append(all, stop)
		}
	}
	inside := fieldstats.AtPlaces(all)
	if len(inside) < fieldstats.LeastStops {
		return math.NaN()
	}
	if i := s.MeanInterval(inside); i.Known() {
		return i.Low
	}
	return fieldstats.Mean(inside)
}

func (g *Figures) zones(f *assess.Field) {
	treat, watch, clear := f.Map.Zone(zones.Treat), f.Map.Zone(zones.Watch), f.Map.Zone(zones.Clear)
	g.TreatArea, g.WatchArea = treat.Area, watch.Area
	g.TreatMean, g.WatchMean = treat.Mean, watch.Mean
	var sum, area float64
	for _, z := range []zones.Zone{watch, clear} {
		if !math.IsNaN(z.Mean) {
			sum, area = sum+float64(z.Mean*z.Area), area+z.Area
		}
	}
	g.RestMean = sum / area
}

// slivers leaves out unscouted ground that is less than the least patch of the map: the
// reach of a stop is not known so finely, and no verdict may depend on it.
func (g *Figures) slivers(least float64) {
	if g.Unscouted < least {
		g.WatchArea, g.Unscouted = max(0, g.WatchArea-g.Unscouted), 0
		if g.WatchArea < 1 { // m²
			g.WatchArea = 0
		}
	}
}

// share is a part of the field.
func (g Figures) share(area float64) float64 { return area / g.Area }

// infested is the share of units with any pest, of stops where units do not tell.
func (g Figures) infested() (share float64, ofUnits bool) {
	if p := g.Stats.Infested; p != nil {
		return p.Share, true
	}
	return g.Stats.Found.Share, false
}

// stopsOf are the field's stops as fieldstats takes them.
func stopsOf(f *assess.Field, stat assess.Statistic) []fieldstats.Stop {
	stops, edges := make([]fieldstats.Stop, len(f.Stops)), geo.NewEdgeIndex(f.XY)
	inner := geo.HasInside(f.XY, fieldstats.EdgeStrip)
	for i, s := range f.Stops {
		stops[i] = fieldstats.Stop{
			X: s.XY[0], Y: s.XY[1], Value: s.Value, Units: s.Units, Hits: math.NaN(), Infested: math.NaN(),
			Found: s.Total > 0 || s.Value > 0, Inside: edges.Distance(s.XY), Extra: s.Extra,
		}
		switch {
		case s.Outside > 0:
			stops[i].Inside = -s.Outside
		case !inner: // nobody could stand farther inside, so that all count as if they did
			stops[i].Inside = max(stops[i].Inside, fieldstats.EdgeStrip)
		}
		if share, ok := s.Share(1); ok {
			stops[i].Infested = share * s.Units
		}
		if share, ok := s.Share(stat.Tally); ok && stat.Tally > 0 && stat.Part == "" {
			stops[i].Hits = share * s.Units
		}
	}
	return stops
}
