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
	return assess.ChanceSettings{Surface: o.Surface.Chance || o.Surface.Loss, Loss: o.Surface.Loss, TreatAt: o.TreatChance, WatchAt: o.WatchChance, Catch: o.Catch}
}

// Surface is what zones go by: idw, the default, chance or loss; of the two at most one is
// set.
type Surface struct{ Chance, Loss bool }

func (s *Surface) Set(text string) error {
	switch text {
	case "idw", "chance", "loss":
		s.Chance, s.Loss = text == "chance", text == "loss"
		return nil
	}
	return errors.New("want idw, chance or loss")
}

func (s *Surface) String() string {
	switch {
	case s.Chance:
		return "chance"
	case s.Loss:
		return "loss"
	}
	return "idw"
}

func (s *Surface) Type() string { return "idw|chance|loss" }

// UnmarshalText takes a text of a settings file.
func (s *Surface) UnmarshalText(text []byte) error { return s.Set(string(text)) }

// MarshalText writes what [Surface.Set] reads.
func (s Surface) MarshalText() ([]byte, error) { return []byte(s.String()), nil }
