package engine

import (
	"errors"

	"github.com/geocoris/geocoris/internal/mapping/assess"
)

// ChanceSettings are what the chance of being over the treat level is used for.
type ChanceSettings struct {
	Surface     Surface `toml:"surface" json:"surface"`
	TreatChance float64 `toml:"treat-chance" json:"treat-chance"`
	WatchChance float64 `toml:"watch-chance" json:"watch-chance"`
	Catch       float64 `toml:"catch" json:"catch"`
}

func (o ChanceSettings) assess() assess.ChanceSettings {
	return assess.ChanceSettings{Surface: o.Surface.Chance, TreatAt: o.TreatChance, WatchAt: o.WatchChance, Catch: o.Catch}
}

// Surface is idw, the default, or chance.
type Surface struct{ Chance bool }

func (s *Surface) Set(text string) error {
	switch text {
	case "idw", "chance":
		s.Chance = text == "chance"
		return nil
	}
	return errors.New("want idw or chance")
}

func (s *Surface) String() string {
	if s.Chance {
		return "chance"
	}
	return "idw"
}

func (s *Surface) Type() string { return "idw|chance" }

// UnmarshalText takes a text of a settings file.
func (s *Surface) UnmarshalText(text []byte) error { return s.Set(string(text)) }

// MarshalText writes what [Surface.Set] reads.
func (s Surface) MarshalText() ([]byte, error) { return []byte(s.String()), nil }
