// Package decision weighs what may be done to a field today by the loss that each
// choice is expected to bring.
//
// The unit of loss is a treatment: what treating a piece of ground costs. Leaving a
// place with the density m costs min(m/T, 5) of it, T being the density at which a
// treatment pays. That loss grows with the pest as that of an economic threshold does
// (Stern, Smith, van den Bosch & Hagen 1959, Hilgardia 29:81–101, from memory); that it
// ends at five treatments, where the crop is lost, is our choice, no source. Areas are
// m², sums treatments times m².
package decision

import "math"

// Most is what leaving a place costs at the most, in treatments.
const Most = 5

// A Place is a piece of ground with what leaving it is expected to cost.
type Place struct {
	X, Y   float64 // metres
	Area   float64 // m² that it stands for
	Loss   float64 // expected min(m/T, Most)
	Capped float64 // expected min(m/T, 1): the cost of one who will know m
	Treat  bool    // it lies in the map's treat zone
}

// Prices are how a spot job differs from treating the whole field. The zero value is
// not at all.
type Prices struct {
	SpotCharge float64 // more for a spot job, in treatments times m²
	SpotLeaves float64 // part of what treating averts that a spot spray does not, 0 to 1
}

// A Choice is what may be done. The zero value is none, which nothing forgotten can
// pass for.
type Choice uint8

const (
	None Choice = iota
	Nothing
	Zone  // treat the map's treat zone
	Whole // treat the whole field
)

// Sums are what each choice is expected to cost on a field.
type Sums struct {
	Area, ZoneArea       float64
	Nothing, Zone, Whole float64
	Places               float64 // of treating just the places where leaving costs 1 or more
	PlacesArea           float64
	// Blind is Σ min(1, Loss), Seeing Σ Capped: what one pays who goes by what is
	// expected, and one who knows every place.
	Blind, Seeing float64
}

// Weigh adds up places. A zone without ground is nothing.
func Weigh(places []Place, p Prices) (s Sums) {
	for _, at := range places {
		loss, treated := float64(at.Loss*at.Area), at.Area*(1+float64(p.SpotLeaves*at.Loss))
		s.Area += at.Area
		s.Nothing += loss
		s.Blind += min(at.Area, loss)
		s.Seeing += float64(at.Capped * at.Area)
		if at.Treat {
			s.ZoneArea += at.Area
			s.Zone += treated
		} else {
			s.Zone += loss
		}
		if treated <= loss {
			s.PlacesArea += at.Area
			s.Places += treated
		} else {
			s.Places += loss
		}
	}
	s.Whole = s.Area
	if s.ZoneArea > 0 {
		s.Zone += p.SpotCharge
	}
	if s.PlacesArea > 0 {
		s.Places += p.SpotCharge
	}
	return s
}

// Of is the sum of a choice; NaN of none.
func (s Sums) Of(c Choice) float64 {
	switch c {
	case Nothing:
		return s.Nothing
	case Zone:
		return s.Zone
	case Whole:
		return s.Whole
	}
	return math.NaN()
}

// Known reports whether there is anything to weigh.
func (s Sums) Known() bool {
	return s.Area > 0 && !math.IsNaN(s.Nothing) && !math.IsNaN(s.Zone)
}

// closeBy is by how much two sums must differ, in treatments of the whole field, to mean
// anything: what one field really cost was 0.12 from what was expected (root mean
// square over the fields of TestDecision).
const closeBy = 0.1

// HasZone reports a treat zone that is a part of the field only.
func (s Sums) HasZone() bool { return s.ZoneArea > 0 && s.ZoneArea < 0.999*s.Area }

// Best is the choice with the least sum, of equal ones the one that treats more; None
// where nothing is known. A zone that is none, or all of the field, is no choice.
func (s Sums) Best() Choice {
	if !s.Known() {
		return None
	}
	best := Whole
	if s.HasZone() && s.Zone < s.Of(best) {
		best = Zone
	}
	if s.Nothing < s.Of(best) {
		best = Nothing
	}
	return best
}

// LeastBut is Best, but for nothing where another choice is expected to save no more than
// a part of a treatment of the field, and the whole field costs no less than nothing.
func (s Sums) LeastBut(part float64) Choice {
	if best := s.Best(); best != Zone || s.Nothing > s.Whole || s.Nothing-s.Zone > part*s.Area {
		return best
	}
	return Nothing
}

// Rival is the choice that comes nearest to another one; None where nothing is known.
func (s Sums) Rival(c Choice) (rival Choice) {
	if !s.Known() {
		return None
	}
	for _, other := range []Choice{Whole, Zone, Nothing} {
		if other == c || other == Zone && !s.HasZone() {
			continue
		}
		if rival == None || s.Of(other) < s.Of(rival) {
			rival = other
		}
	}
	return rival
}

// Close reports whether another choice is expected to cost as much as one, or so nearly
// as much that the difference means nothing.
func (s Sums) Close(c Choice) bool {
	return s.Known() && math.Abs(s.Of(s.Rival(c))-s.Of(c)) < closeBy*s.Area
}

// Choose is the choice with the least sum, but for the zone wherever its own is about as
// low: it holds what was found over the level and no more, and on simulated fields nothing
// that was tried in its place in close calls cost less (TestDecision). Without a zone it
// is the whole field where the mean is over the level, then nothing is no choice, and else
// nothing.
func (s Sums) Choose(zone, meanOver bool) Choice {
	best := Nothing
	if meanOver {
		best = Whole
	}
	switch {
	case !zone:
		return best
	case !s.Known():
		return Zone
	case s.Whole <= s.Nothing:
		best = Whole
	}
	if s.Zone-s.Of(best) <= closeBy*s.Area {
		return Zone
	}
	return best
}

// surprise is what the field may cost beyond what the model sees, in treatments of it:
// half of the chance 1/(n + 1) that a further stop finds what none of n did (the rule
// of succession).
func surprise(stops int) float64 { return 0.5 / float64(stops+1) }

// PerArea is the cost of deciding now by n stops that is to be expected on average, in
// treatments of the field.
func (s Sums) PerArea(stops int) float64 { return s.Blind/s.Area + surprise(stops) }

// Regret is what deciding now by n stops is expected to cost beyond what one pays who
// knows everything, in treatments of the field.
func (s Sums) Regret(stops int) float64 {
	return max(0, s.Blind-s.Seeing)/s.Area + surprise(stops)
}

// Saving is what so many further stops would save on average over such fields, in
// treatments times m². What knowing everything would save shrinks with the square root
// of the stops, as errors do.
func (s Sums) Saving(stops, further int) float64 {
	regret := s.Regret(stops) * s.Area
	return regret * (1 - math.Sqrt(float64(stops)/float64(stops+further)))
}
