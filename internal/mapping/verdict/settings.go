package verdict

import (
	"fmt"
	"math"

	"github.com/geocoris/geocoris/internal/mapping/fieldstats"
	"github.com/geocoris/geocoris/internal/mapping/visit"
	"github.com/geocoris/geocoris/internal/recall"
)

// Settings are the thresholds of the table. Zero fields mean the defaults.
type Settings struct {
	LeastInside    int     // stops inside the edge strip before anything is decided; 4 (Texas A&M AgriLife: at least 4 places in a field)
	LeastStops     int     // stops before "no spray", and before the map's treat zone is a choice; 10, as for a map that may be believed
	WholeShare     float64 // treated share from which the whole field is simpler; 0.9 (our choice: on simulated fields 0.65 costs more than it saves)
	Everywhere     float64 // share of stops with any pest from which it is said to be all over the field; 0.8 (our choice, no source)
	UnscoutedShare float64 // share of unscouted ground from which nothing is decided; 0.25 (our choice, no source)
	MostStops      int     // no verdict asks for more further stops than these; 40 (our choice, no source)
	UnscoutedLeft  float64 // share of unscouted ground up to which a quiet field is not sprayed; 0.15 (our choice, no source)
	Revisit        float64 // days to the next usual visit; that of the levels, or 7 (Texas A&M AgriLife)
	RevisitFound   float64 // days to the next visit once colonies are found; 3 (Texas A&M AgriLife: 3 to 4)
	InfestedShare  float64 // share of units or plants that a rule wants infested besides, 0 to 1; 0 asks for none
	Money          *Money  // nil without prices
	Statistics     fieldstats.Settings
	Memory         *recall.Memory // keeps what does not go by the levels for the next time; nil keeps nothing
}

// Defaults of [Settings].
const (
	leastInside    = 4
	leastStops     = 10
	wholeShare     = 0.9
	everywhere     = 0.8
	unscoutedShare = 0.25
	unscoutedLeft  = 0.15
	mostStops      = 40
)

// WithDefaults fills in what is zero.
func (s Settings) WithDefaults() Settings {
	for _, v := range []struct {
		at    *int
		usual int
	}{{&s.LeastInside, leastInside}, {&s.LeastStops, leastStops}, {&s.MostStops, mostStops}} {
		if *v.at == 0 {
			*v.at = v.usual
		}
	}
	for _, v := range []struct {
		at    *float64
		usual float64
	}{{&s.WholeShare, wholeShare}, {&s.Everywhere, everywhere}, {&s.UnscoutedShare, unscoutedShare}, {&s.UnscoutedLeft, unscoutedLeft}, {&s.Revisit, visit.Usual}, {&s.RevisitFound, visit.Settled}} {
		if *v.at == 0 {
			*v.at = v.usual
		}
	}
	s.RevisitFound = min(s.RevisitFound, s.Revisit)
	return s
}

// Validate reports settings that cannot be meant.
func (s Settings) Validate() error {
	for _, v := range []struct {
		name  string
		value float64
		most  float64
	}{
		{"least stops inside", float64(s.LeastInside), math.MaxInt32}, {"least stops", float64(s.LeastStops), math.MaxInt32},
		{"most stops", float64(s.MostStops), math.MaxInt32}, {"share for the whole field", s.WholeShare, 1},
		{"share of stops infested", s.Everywhere, 1}, {"unscouted share", s.UnscoutedShare, 1}, {"unscouted share left", s.UnscoutedLeft, 1},
		{"revisit", s.Revisit, 366}, {"revisit once found", s.RevisitFound, 366}, {"infested share", s.InfestedShare, 1},
	} {
		if !(v.value >= 0 && v.value <= v.most) {
			return fmt.Errorf("%s %g: want 0 to %g", v.name, v.value, v.most)
		}
	}
	if s.Money != nil {
		return s.Money.Validate()
	}
	return nil
}
