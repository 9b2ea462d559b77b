package cli

import (
	"errors"

	"github.com/spf13/pflag"

	"github.com/geocoris/geocoris/internal/assess"
)

// chanceOptions are what the chance of being over the treat level is used for.
type chanceOptions struct {
	Surface     surface `toml:"surface" json:"surface"`
	TreatChance float64 `toml:"treat-chance" json:"treat-chance"`
	WatchChance float64 `toml:"watch-chance" json:"watch-chance"`
	Catch       float64 `toml:"catch" json:"catch"`
}

func (o *chanceOptions) flags(f *pflag.FlagSet) {
	f.Var(&o.Surface, "surface", "zones by the counts' surface, idw, or by the `chance` of being at or above the treat level (idw)")
	f.Float64Var(&o.TreatChance, "treat-chance", 0, "with --surface chance, treat from this chance of the treat level on (0.5)")
	f.Float64Var(&o.WatchChance, "watch-chance", 0, "with --surface chance, watch from this chance of the watch level on (0.3)")
	f.Float64Var(&o.Catch, "catch", 0, "treat the least ground expected to hold this `share` of what is over, such as 0.9")
}

func (o chanceOptions) assess() assess.ChanceSettings {
	return assess.ChanceSettings{Surface: o.Surface.chance, TreatAt: o.TreatChance, WatchAt: o.WatchChance, Catch: o.Catch}
}

// surface is idw, the default, or chance.
type surface struct{ chance bool }

func (s *surface) Set(text string) error {
	switch text {
	case "idw", "chance":
		s.chance = text == "chance"
		return nil
	}
	return errors.New("want idw or chance")
}

func (s *surface) String() string {
	if s.chance {
		return "chance"
	}
	return "idw"
}

func (s *surface) Type() string { return "idw|chance" }

// UnmarshalText takes a text of a settings file.
func (s *surface) UnmarshalText(text []byte) error { return s.Set(string(text)) }

// MarshalText writes what [surface.Set] reads.
func (s surface) MarshalText() ([]byte, error) { return []byte(s.String()), nil }
