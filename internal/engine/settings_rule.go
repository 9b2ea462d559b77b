package engine

import (
	"cmp"
	"errors"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/mapping/fieldstats"
	"github.com/geocoris/geocoris/internal/mapping/rules"
	"github.com/geocoris/geocoris/internal/mapping/verdict"
)

// RuleSettings are what a map goes by beside its levels: a rule, and money.
type RuleSettings struct {
	Rule  string `toml:"rule" json:"rule,omitempty"`
	Stage string `toml:"stage" json:"stage,omitempty"`
	Rules string `toml:"rules" json:"rules,omitempty"` // file of the user's own
	Part  string `toml:"-" json:"part,omitempty"`      // set by the rule: see [assess.Statistic]
	Sign  string `toml:"-" json:"sign,omitempty"`      // likewise

	Cost    float64 `toml:"cost" json:"cost,omitempty"`
	SpotJob float64 `toml:"spot-job" json:"spot-job,omitempty"`
	Price   float64 `toml:"price" json:"price,omitempty"`
	Loss    float64 `toml:"loss" json:"loss,omitempty"`
	Control float64 `toml:"control" json:"control,omitempty"`
	Heads   float64 `toml:"heads" json:"heads,omitempty"`

	SpotControl float64 `toml:"spot-control" json:"spot-control,omitempty"`
	Stop        float64 `toml:"stop-cost" json:"stop-cost,omitempty"`

	Per PerArea `toml:"per" json:"per"`

	SprayIn float64 `toml:"spray-in" json:"spray-in,omitempty"`

	Verdict VerdictSettings `toml:"verdict" json:"verdict"` // of a settings file only
}

// VerdictSettings are the thresholds of the verdict's table, under [verdict] in a
// settings file; what they mean stands at [verdict.Settings].
type VerdictSettings struct {
	LeastInside    int     `toml:"least-inside" json:"least-inside,omitempty"`
	LeastStops     int     `toml:"least-stops" json:"least-stops,omitempty"`
	MostStops      int     `toml:"most-stops" json:"most-stops,omitempty"`
	WholeShare     float64 `toml:"whole-share" json:"whole-share,omitempty"`
	Everywhere     float64 `toml:"everywhere" json:"everywhere,omitempty"`
	UnscoutedShare float64 `toml:"unscouted-share" json:"unscouted-share,omitempty"`
	UnscoutedLeft  float64 `toml:"unscouted-left" json:"unscouted-left,omitempty"`
	RevisitFound   float64 `toml:"revisit-found" json:"revisit-found,omitempty"`
	Seed           uint64  `toml:"seed" json:"seed,omitempty"`
}

func (o VerdictSettings) settings() verdict.Settings {
	return verdict.Settings{
		LeastInside: o.LeastInside, LeastStops: o.LeastStops, MostStops: o.MostStops,
		WholeShare: o.WholeShare, Everywhere: o.Everywhere, UnscoutedShare: o.UnscoutedShare, UnscoutedLeft: o.UnscoutedLeft, RevisitFound: o.RevisitFound,
		Statistics: fieldstats.Settings{Seed: o.Seed},
	}
}

// verdictSettingsOf are settings as a settings file has them.
func verdictSettingsOf(s verdict.Settings) VerdictSettings {
	return VerdictSettings{
		LeastInside: s.LeastInside, LeastStops: s.LeastStops, MostStops: s.MostStops,
		WholeShare: s.WholeShare, Everywhere: s.Everywhere, UnscoutedShare: s.UnscoutedShare, UnscoutedLeft: s.UnscoutedLeft, RevisitFound: s.RevisitFound,
		Seed: cmp.Or(s.Statistics.Seed, fieldstats.DefaultSeed),
	}
}

// PerArea is the area that money is for: a hectare where nothing else is said.
type PerArea struct{ Acre bool }

func (p *PerArea) Set(text string) error {
	switch text {
	case "acre":
		p.Acre = true
	case "hectare":
		p.Acre = false
	default:
		return errors.New("want hectare or acre")
	}
	return nil
}

func (p *PerArea) String() string {
	if p.Acre {
		return "acre"
	}
	return "hectare"
}

func (p *PerArea) Type() string { return "area" }

// UnmarshalText takes a text of a settings file.
func (p *PerArea) UnmarshalText(text []byte) error { return p.Set(string(text)) }

// MarshalText writes what [PerArea.Set] reads.
func (p PerArea) MarshalText() ([]byte, error) { return []byte(p.String()), nil }

func (p PerArea) squareMetres() float64 {
	if p.Acre {
		return geo.SquareMetresPerAcre
	}
	return geo.SquareMetresPerHectare
}

// prices are what was given of cost and price, for an acre.
func (o RuleSettings) prices() rules.Prices {
	return rules.Prices{Cost: o.Cost * geo.SquareMetresPerAcre / o.Per.squareMetres(), Price: o.Price, Heads: o.Heads * geo.SquareMetresPerAcre / o.Per.squareMetres()}
}
