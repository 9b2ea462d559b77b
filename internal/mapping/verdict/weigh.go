package verdict

import (
	"math"

	"github.com/geocoris/geocoris/internal/mapping/decision"
)

// Further is how many more stops a verdict tells the worth of.
const Further = 10

// weigh takes in what each choice is expected to cost on a field of these places.
func (g *Figures) weigh(places []decision.Place, s Settings) {
	g.PaysAt = s.Money.paysAt(g.Treat)
	g.Sums = decision.Weigh(places, s.Money.prices())
}

// paysAt is the density at which a treatment pays: where prices and losses tell it, that
// of the break-even test, else the threshold.
func (m *Money) paysAt(treat float64) float64 {
	if m == nil || m.Price == 0 {
		return treat
	}
	return m.Cost / (m.Price * m.Loss * m.control())
}

// control is the part of the loss that treating averts.
func (m *Money) control() float64 {
	if m.Control == 0 {
		return FullControl
	}
	return m.Control
}

// prices are how a spot job differs from treating the whole field.
func (m *Money) prices() (p decision.Prices) {
	if m == nil {
		return p
	}
	p.SpotCharge = m.SpotJob / m.Cost
	if m.SpotControl > 0 {
		p.SpotLeaves = max(0, 1-m.SpotControl/m.control())
	}
	return p
}

// zoned reports a treat zone that stops inside the edge bear out, enough of them for a
// map.
func (f Figures) zoned(s Settings) bool {
	return f.TreatArea > 0 && f.OverInside > 0 && f.Stats.Places() >= s.LeastStops
}

// meanOver reports that the mean of all stops, or of those inside, is at or above the
// threshold, and not by a stop that was found to be a single place.
func (f Figures) meanOver() bool { return f.meanAt() && !f.single() }

// choice is what is expected to cost least, as far as that can be known.
func (f Figures) choice(s Settings) decision.Choice {
	c := f.byMap(s)
	switch best := f.Sums.Best(); {
	case f.slightZone(s):
		return decision.Nothing
	case !f.zoned(s):
	case c == decision.Nothing && f.Patches > 0: // to find a patch is never a reason to leave it
		return decision.Zone
	case f.Believed || best != decision.Zone:
	case c == decision.Nothing && f.unwalked() == 0 && !f.Sums.Close(decision.Nothing):
		return decision.Zone
	case c == decision.Whole && f.Patches > 0 && straddles(f):
		return decision.Zone
	}
	return c
}

// byMap is the choice by the map and the mean alone, whatever was found round hot stops.
func (f Figures) byMap(s Settings) decision.Choice {
	return f.choose(f.Believed && f.zoned(s), f.meanOver())
}

// ofOneStop is the part of a treatment of the field that treating the zone of one stop must be
// expected to save against doing nothing (TestSlightZones).
const ofOneStop = 0.02

// slight reports that the treat zone is not worth a job: it is less than the ground of a stop,
// no stop is very hot, no walk found a patch, the mean is below the threshold, and to treat the
// zone is expected to save nothing against doing nothing, or next to nothing where it rests on
// one hot stop. Larger zones that are expected to save nothing do save, on simulated fields.
func (f Figures) slight() bool {
	if !f.Sums.Known() || f.Patches > 0 || f.meanAt() || f.Stats.Max >= veryHot*f.Treat || f.TreatArea >= perStop(f) {
		return false
	}
	saves := f.Sums.Nothing - f.Sums.Zone
	return saves <= 0 || f.Over == 1 && saves < ofOneStop*f.Sums.Area
}

// slightZone reports a treat zone that the map would have, and that is not worth a job.
func (f Figures) slightZone(s Settings) bool { return f.byMap(s) == decision.Zone && f.slight() }

// choose is the choice of the sums, but for a zone that is none in a close call only,
// where prices tell that it averts less than it costs.
func (f Figures) choose(zone, meanOver bool) decision.Choice {
	c := f.Sums.Choose(zone, meanOver)
	if c != decision.Zone || !f.Sums.Known() || f.Costs == nil || !(f.Costs.Spot > f.Costs.SpotAverts) {
		return c
	}
	other := decision.Whole
	if !meanOver && f.Sums.Nothing < f.Sums.Whole {
		other = decision.Nothing
	}
	if f.Sums.Of(other) < f.Sums.Zone {
		return other
	}
	return c
}

// Choice is the choice that a kind is; None of those that are none.
func (k Kind) Choice() decision.Choice {
	switch k {
	case NoSpray, LookAgain:
		return decision.Nothing
	case SpotSpray:
		return decision.Zone
	case TreatWhole:
		return decision.Whole
	}
	return decision.None
}

// instead is what to do where more stops should be walked and cannot be today: as if the
// map could be believed, where there are stops enough for one. Edges never decide, and
// stops of a part of the field decide on no more than that part.
func (f Figures) instead(s Settings) Kind {
	zone := f.TreatArea > 0 && f.Stats.Places() >= s.LeastStops
	if f.Stats.Edge.InteriorStops < s.LeastInside {
		return LookAgain
	}
	choice := f.choose(zone, f.Stats.Edge.InteriorMean >= f.Treat)
	if f.partial() && choice != decision.Nothing {
		choice = decision.Nothing
		if zone && f.OverInside > 0 && f.share(f.TreatArea) <= f.layout.Span {
			choice = decision.Zone
		}
	}
	switch {
	case choice == decision.Whole:
		return TreatWhole
	case choice == decision.Zone && !f.slight():
		return SpotSpray
	}
	return LookAgain
}

// littleSaved is the part of a treatment of the field below which what more stops would
// save is nothing (our choice).
const littleSaved = 0.01

// walkPays reports that further stops would save more on average than they cost to walk,
// and not next to nothing.
func (f Figures) walkPays(s Settings) bool {
	if !f.Sums.Known() || f.Stats.Stops == 0 {
		return true
	}
	cost := littleSaved * f.Sums.Area
	if s.Money != nil {
		cost = max(cost, Further*s.Money.Stop/s.Money.Cost)
	}
	return f.Sums.Saving(f.Stats.Places(), Further) >= cost
}

// worth settles whether the call is close and what more stops would save, by what is to
// be done today.
func (v *Verdict) worth(s Settings) {
	k := v.Kind
	if k == Undecided {
		k = v.Instead
	}
	v.Close = v.Sums.Close(k.Choice())
	if !v.Sums.Known() || v.Stats.Stops == 0 {
		return
	}
	v.Saves = v.Sums.Saving(v.Stats.Places(), Further)
	if s.Money != nil {
		v.Saves *= s.Money.Cost
		v.StopsCost = s.Money.Stop * Further
	}
	if math.IsNaN(v.Saves) {
		v.Saves = 0
	}
}
