package assess

import (
	"fmt"
	"math"

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
}

func (s Statistic) unit() string {
	if s.Unit == "" {
		return "leaf"
	}
	return s.Unit
}

// String is the statistic in words, such as "mean per leaf" or "% of leaves at
// or above 50".
func (s Statistic) String() string {
	switch {
	case s.Part != "" && s.Tally == 1:
		return fmt.Sprintf("%% of %s with any", plural(s.unit()))
	case s.Part != "":
		return fmt.Sprintf("%% of %s with a %s at or above %g", plural(s.unit()), s.Part, s.Tally)
	case s.Tally > 0:
		return fmt.Sprintf("%% of %s at or above %g", plural(s.unit()), s.Tally)
	}
	return "mean per " + s.unit()
}

// Validate reports a tally that cannot be meant.
func (s Statistic) Validate() error {
	if !(s.Tally >= 0) || math.IsInf(s.Tally, 0) {
		return fmt.Errorf("tally %g: want a count above 0", s.Tally)
	}
	if s.Part != "" && s.Tally == 0 {
		return fmt.Errorf("a share of %s by the %s needs a tally", plural(s.unit()), s.Part)
	}
	return nil
}

func plural(unit string) string {
	if unit == "leaf" {
		return "leaves"
	}
	return unit + "s"
}

// of is the statistic's value at a stop; ok is false where its rows do not give
// it.
func (s Statistic) of(stop survey.Stop) (value float64, ok bool) {
	if s.Part != "" {
		share, ok := stop.PlantShare(s.Tally)
		return 100 * share, ok
	}
	if s.Tally > 0 {
		share, ok := stop.Share(s.Tally)
		return 100 * share, ok
	}
	return stop.Mean(), stop.Units > 0
}

// untold says why a stop does not tell the share.
func (s Statistic) untold(name string) string {
	if s.Part != "" {
		return fmt.Sprintf("stop %s does not tell for each plant whether a %s had %g or more: want a row for each leaf, with columns plant and leaf; the share cannot be mapped",
			name, s.Part, s.Tally)
	}
	return fmt.Sprintf("stop %s counts several %s on one row and does not tell how many had %g or more: the share cannot be mapped",
		name, plural(s.unit()), s.Tally)
}
