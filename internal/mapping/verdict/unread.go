package verdict

import (
	"math"
	"slices"

	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/mapping/decision"
	"github.com/geocoris/geocoris/internal/mapping/fieldstats"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// Unread is the name of the line that decides where reading a row could change the
// answer toward more danger.
const Unread = "unread"

// Bounds of what is tried for rows that were not read.
const (
	mostAlone = 12  // stops that are tried one by one, besides all together
	mostCount = 1e5 // per unit: beyond it nobody counts
)

// From which share of stops not read on it is not decided what to spray (TestRowsLost).
const (
	lostOfSpot  = 0.1
	lostOfWhole = 0.25
)

// Lost counts the stops that may lie in the field beside those used, and the rows that
// stops used may lack; loose is set where some may be another field's.
func (v Verdict) Lost() (stops, rows int, loose bool) { return assess.Lost(v.Unread) }

// readFirst compares the verdict with what the rows that were not read may say, and
// makes it undecided where that could be more dangerous, or where so much is lost that what is
// to be sprayed may be other ground.
func (v *Verdict) readFirst(f *assess.Field, r *assess.Result, s Settings) {
	v.Unread, v.Undated = f.Unread, f.Undated()
	v.Shared = v.sharedPlaces(f, r)
	if len(v.Unread)+len(v.Shared) == 0 || !v.lostTooMuch(f) && (v.Kind >= SpotSpray || !newTrial(v.Figures, f, r, s).worseThan(v.Kind, v.Shared)) {
		return
	}
	v.Without, v.Kind, v.Line = v.Kind, Undecided, Unread
	v.Why = whyFirst(v.Unread)
	if v.Without != Undecided {
		v.Instead = v.Without
		v.Says, v.Where, v.Round, v.Fill, v.More = "", "", nil, false, 0
	}
	v.Days = v.beforeOver(soon(v.Figures, s))
}

// whyFirst is why what is in doubt comes first.
func whyFirst(unread []assess.Unread) string {
	switch {
	case len(unread) == 0:
		return "which of two counts at one place holds could change the answer"
	case slices.ContainsFunc(unread, func(u assess.Unread) bool { return u.PlaceOf == "" }):
		return "rows that were not read could change the answer"
	}
	return "stops whose places are not known could change the answer"
}

// sharedPlaces are the pairs of stops at one place that are of different zones.
func (v *Verdict) sharedPlaces(f *assess.Field, r *assess.Result) []assess.SharedPlace {
	zone := func(i int) (zone int) {
		for _, level := range [...]float64{v.Watch, v.Treat} {
			if f.Stops[i].Value >= level {
				zone++
			}
		}
		return zone
	}
	all := assess.SharedPlaces(r.Survey, f.Together, len(f.Stops), func(i int) *survey.Stop { return &f.Stops[i].Stop })
	return slices.DeleteFunc(all, func(p assess.SharedPlace) bool { return zone(p.First) == zone(p.Then) })
}

// lostTooMuch reports whether what is to be sprayed, or where to walk more stops, may be other
// ground than so many stops fewer say. Stops that may be another field's count in part, and
// so do those of which some rows were read. Of two counts at one place one is half lost.
func (v *Verdict) lostTooMuch(f *assess.Field) bool {
	const halfLost = 1.0 / 2
	kind, lost, own := v.Kind, float64(halfLost*float64(len(v.Shared))), 0.0
	for _, u := range f.Unread {
		lost += float64(u.Share * u.Lost(f.Stops))
		if u.Own {
			own += u.Share
		}
	}
	least := lostOfSpot
	if kind == TreatWhole {
		least = lostOfWhole
	}
	return (kind == Undecided || kind >= SpotSpray) && lost >= float64(least*(float64(len(f.Stops))+own))
}

// A trial tries what the rows of a field that were not read may say.
type trial struct {
	base   Figures
	field  *assess.Field
	stat   assess.Statistic
	set    Settings
	stops  []fieldstats.Stop
	units  float64           // of a stop like the others
	places []assess.Position // where a stop without a place may have been
}

func newTrial(g Figures, f *assess.Field, r *assess.Result, s Settings) trial {
	t := trial{base: g, field: f, stat: r.Statistic, set: s, stops: stopsOf(f, r.Statistic), places: f.Places()}
	for _, stop := range t.stops {
		t.units += stop.Units / float64(len(t.stops))
	}
	return t
}

// A part is a way in which rows may belong: to a stop that was counted, or as one more
// at one of some places.
type part struct {
	of        int // below 0 is one more
	low, high float64
	places    []assess.Position
}

// parts are the ways of each stop that was not read.
func (t trial) parts(u assess.Unread) (parts []part) {
	if u.Own {
		p := part{of: -1, places: t.places}
		if u.Placed {
			p.places = []assess.Position{t.field.Position(u.XY)}
		}
		p.low, p.high = u.Bounds(t.stat)
		parts = append(parts, p)
	}
	for _, i := range u.Of {
		p := part{of: i, places: []assess.Position{{XY: t.field.Stops[i].XY, Inside: t.stops[i].Inside}}}
		p.low, p.high = u.BoundsIn(t.field.Stops[i], t.stat)
		parts = append(parts, p)
	}
	return parts
}

// elsewhere is the higher count of two at one place, if it is that of another.
func (t trial) elsewhere(p assess.SharedPlace) part {
	value := max(t.stops[p.First].Value, t.stops[p.Then].Value)
	return part{of: -1, low: value, high: value, places: t.places}
}

// worseThan reports whether some reading is more dangerous than a verdict: each stop
// by itself, and where there are several all alike.
func (t trial) worseThan(kind Kind, shared []assess.SharedPlace) bool {
	var all []part
	for i, p := range shared {
		moved := t.elsewhere(p)
		if all = append(all, moved); i < mostAlone && t.worse([]part{moved}, kind) {
			return true
		}
	}
	for i, u := range t.field.Unread {
		parts := t.parts(u)
		all = append(all, parts[0])
		if i >= mostAlone || t.coldElsewhere(u, parts[0]) {
			continue
		}
		for _, p := range parts {
			if t.worse([]part{p}, kind) {
				return true
			}
		}
	}
	return len(all) > 1 && t.worse(all, kind)
}

// coldElsewhere reports whether a stop that stands at the place of another is below the watch
// level: wherever it was, it alone makes no answer more dangerous. Several may, as a map can be
// believed for them (TestPlacesDoubted).
func (t trial) coldElsewhere(u assess.Unread, p part) bool {
	return u.PlaceOf != "" && p.high < t.base.Watch
}

// worse tries counts, and places on the edge and inside it.
func (t trial) worse(parts []part, kind Kind) bool {
	for _, v := range t.counts(parts) {
		for _, edge := range []bool{false, true} {
			if t.decides(parts, v, edge, kind) {
				return true
			}
		}
	}
	return false
}

// counts are what may have been counted: as high as carries the whole field over the
// level first, since that settles most cases; at the levels; nothing; what the other
// stops predict for the place.
func (t trial) counts(parts []part) []float64 {
	n := float64(len(t.stops))
	first := parts[0]
	all := []float64{min(mostCount, 2*(n+1)*t.base.Treat), first.high, t.base.Treat, 2 * t.base.Treat, t.base.Watch, 0, first.low}
	if len(first.places) == 1 {
		all = append(all, t.field.Predicted(first.places[0].XY))
	}
	if t.stat.Share() {
		all = append(all, 100)
	}
	seen := map[float64]bool{}
	var counts []float64
	for _, v := range all {
		for _, p := range parts {
			if c := p.clip(v); !seen[c] && !math.IsNaN(c) && !math.IsInf(c, 0) {
				seen[c] = true
				counts = append(counts, v)
				break
			}
		}
	}
	return counts
}

func (p part) clip(v float64) float64 { return max(p.low, min(p.high, v)) }

// decides reports whether the table, with parts read as v and those whose place is not
// placed on the edge or inside it, says something more dangerous than kind.
func (t trial) decides(parts []part, v float64, edge bool, kind Kind) bool {
	stops := append([]fieldstats.Stop(nil), t.stops...)
	highest := 0.0
	for _, p := range parts {
		at, value := on(p.places, edge), p.clip(v)
		if len(at) == 0 || math.IsInf(value, 0) || math.IsNaN(value) {
			return false
		}
		highest = max(highest, value)
		stop := t.stopOf(p, at[0], value)
		if p.of >= 0 {
			stops[p.of] = stop
		} else {
			stops = append(stops, stop)
		}
	}
	return slices.ContainsFunc(t.figures(stops, highest), func(g Figures) bool {
		return Decide(g, t.set).Kind.danger() > kind.danger()
	})
}

// stopOf is a part with such a value. As much of it is infested as a rule could ask for.
func (t trial) stopOf(p part, at assess.Position, value float64) fieldstats.Stop {
	stop := fieldstats.Stop{X: at.XY[0], Y: at.XY[1], Units: max(1, t.units), Inside: at.Inside}
	if p.of >= 0 {
		stop = t.stops[p.of]
	}
	stop.Value, stop.Found = value, value > 0 || stop.Found
	stop.Hits, stop.Infested = stop.Units*value/100, 0
	if value > 0 {
		stop.Infested = stop.Units
	}
	return stop
}

// on are the places on the edge, or those inside it.
func on(places []assess.Position, edge bool) (on []assess.Position) {
	for _, p := range places {
		if (p.Inside < fieldstats.EdgeStrip) == edge {
			on = append(on, p)
		}
	}
	return on
}

// figures are those with such stops: the ground that they bring is one stop's, or
// nearly as much as is treated in part; what lies beyond reach may come into it. What
// choices cost is not worked out again, so that ground to treat is taken to pay, whether
// or not the map would be believed.
func (t trial) figures(stops []fieldstats.Stop, highest float64) (all []Figures) {
	g := t.base
	g.Sums, g.Believed = decision.Sums{}, true
	g.TreatMean = max(highest, g.Treat, finite(g.TreatMean))
	g.count(stops, 0, t.set)
	areas := []float64{g.TreatArea}
	if g.OverInside > 0 {
		areas = []float64{max(g.TreatArea, perStop(g)), max(g.TreatArea, 0.99*t.set.WholeShare*g.Area)}
	}
	for _, unscouted := range []float64{g.Unscouted, 0} {
		for _, area := range areas {
			h := g
			h.Unscouted, h.TreatArea = unscouted, area
			if t.set.Money != nil {
				c := t.set.Money.costs(h)
				h.Costs = &c
			}
			all = append(all, h)
		}
	}
	return all
}

func finite(v float64) float64 {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return 0
	}
	return v
}
