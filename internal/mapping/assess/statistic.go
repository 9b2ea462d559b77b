package assess

import (
	"fmt"
	"math"
	"slices"

	"github.com/geocoris/geocoris/internal/language/vocabulary"
	"github.com/geocoris/geocoris/internal/mapping/rules"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// A Statistic is what the surface shows: the mean count per unit, or the share
// of units at or above a tally. The one is never turned into the other.
type Statistic struct {
	Unit  string  // what was counted on: leaf, plant, trap; "" is leaf
	Tally float64 // above 0: the share in % of units with at least that many
	// Part is of a share: the units are plants, and a plant counts from the tally
	// on one of its leaves on. "" judges units by themselves.
	Part string
	// Sign is of a share as well, in place of a tally: the share in % of units that
	// show it, such as honeydew and colonies.
	Sign string
}

// Share reports whether the statistic is a share in %, not a mean.
func (s Statistic) Share() bool { return s.Tally > 0 || s.Sign != "" }

func (s Statistic) unit() string {
	if s.Unit == "" {
		return "leaf"
	}
	return s.Unit
}

// String is the statistic in words, such as "mean per leaf" or "% of leaves at
// or above 50".
func (s Statistic) String() string { return s.In(vocabulary.English) }

// In is [Statistic.String] in a language.
func (s Statistic) In(l vocabulary.Language) string {
	units := rules.Plural(s.unit())
	if l != vocabulary.English {
		units = l.Things(2, s.unit())
	}
	switch {
	case s.Sign != "":
		return l.Say("%% of %s with %s", units, l.Text(s.Sign))
	case s.Part != "" && s.Tally == 1:
		return l.Say("%% of %s with the pest", units)
	case s.Part != "":
		return l.Say("%% of %s with a %s at or above %g", units, l.Things(1, s.Part), s.Tally)
	case s.Tally > 0:
		return l.Say("%% of %s at or above %g", units, s.Tally)
	}
	return l.Say("mean per %s", l.Things(1, s.unit()))
}

// Validate reports a tally that cannot be meant.
func (s Statistic) Validate() error {
	if !(s.Tally >= 0) || math.IsInf(s.Tally, 0) {
		return fmt.Errorf("tally %g: want a count above 0", s.Tally)
	}
	if s.Sign != "" && s.Tally != 0 {
		return fmt.Errorf("a share by %s has no tally", s.Sign)
	}
	if s.Part != "" && !s.Share() {
		return fmt.Errorf("a share of %s by the %s needs a tally", rules.Plural(s.unit()), s.Part)
	}
	return nil
}

// At is the statistic's value at a stop; ok is false where its rows do not give it.
func (s Statistic) At(stop survey.Stop) (value float64, ok bool) {
	if s.Sign != "" {
		share, ok := stop.SignShare(s.Sign)
		return 100 * share, ok
	}
	if s.ByPlants(stop) {
		share, ok := stop.PlantShare(s.Tally)
		return 100 * share, ok
	}
	if s.Tally > 0 {
		share, ok := stop.Share(s.Tally)
		return 100 * share, ok
	}
	return stop.Mean(), stop.Units > 0 && !math.IsNaN(stop.Total)
}

// ByPlants reports whether a stop's value is a share of so many plants, not of the units
// of its rows.
func (s Statistic) ByPlants(stop survey.Stop) bool {
	return s.Part != "" || s.Sign != "" || s.Share() && s.unit() != "leaf" && tellsOver(stop)
}

// tellsOver reports whether a row says itself how many of its plants are over a tally.
func tellsOver(stop survey.Stop) bool {
	return slices.ContainsFunc(stop.Records, func(r survey.Record) bool { return r.Seen != nil && !math.IsNaN(r.Seen.Over) })
}

// WhyMissing says why a stop does not give the statistic.
func (s Statistic) WhyMissing(stop survey.Stop) string {
	name := stop.Name
	asked := fmt.Sprintf("%g", s.Tally)
	if s.Sign != "" {
		asked = s.Sign
	}
	if other := otherTally(stop, asked); other != "" && s.Share() {
		return fmt.Sprintf("stop %s gives plants at or above %s, and the rule asks for %s: the one is never taken for the other", name, other, asked)
	}
	if !s.Share() {
		return fmt.Sprintf("stop %s was not counted: want a count, or a rule of shares", name)
	}
	if s.Sign != "" {
		return fmt.Sprintf("stop %s does not say on how many %s there were %s: write plants and plants_over, or a row for each plant with columns honeydew and colonies; the share cannot be mapped",
			name, rules.Plural(s.unit()), s.Sign)
	}
	if s.Part != "" {
		return fmt.Sprintf("stop %s does not say for each plant whether a %s had %g or more: want a row for each leaf, with columns plant and leaf, or columns plants and plants_over; the share cannot be mapped",
			name, s.Part, s.Tally)
	}
	return fmt.Sprintf("stop %s counts several %s on one row and does not say how many had %g or more: the share cannot be mapped",
		name, rules.Plural(s.unit()), s.Tally)
}

// otherTally is what the plants over of a stop are at or above, where it is given and not
// what is asked for.
func otherTally(stop survey.Stop, asked string) string {
	for _, r := range stop.Records {
		if r.Seen != nil && !math.IsNaN(r.Seen.Over) && r.Seen.AtOrAbove != "" && r.Seen.AtOrAbove != asked {
			return r.Seen.AtOrAbove
		}
	}
	return ""
}

// named is what a share is of.
func (s Statistic) named() string {
	if s.Sign != "" {
		return s.Sign
	}
	return fmt.Sprintf("the tally of %g", s.Tally)
}
