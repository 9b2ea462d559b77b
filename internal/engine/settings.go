package engine

import (
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/language/vocabulary"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/interp"
)

// Settings are those of map, called as its flags and the keys of a settings file
// are. Paths in them are names: what they name comes with the request.
type Settings struct {
	Field        string `toml:"field" json:"field"`
	Out          string `toml:"out" json:"out"`
	NameProperty string `toml:"name-property" json:"name-property"`
	Inner        Inner  `toml:"inner" json:"inner,omitempty"`

	Only   []string `toml:"only" json:"only,omitempty"`     // fields; nil is all
	Fields string   `toml:"fields" json:"fields,omitempty"` // file of what is known of each field

	TreatAt   float64 `toml:"treat-at" json:"treat-at"`
	WatchAt   float64 `toml:"watch-at" json:"watch-at"`
	NextVisit float64 `toml:"next-visit" json:"next-visit"`
	Doubling  float64 `toml:"doubling" json:"doubling"`
	Tally     float64 `toml:"tally" json:"tally"`
	Unit      string  `toml:"unit" json:"unit"`

	RuleSettings

	Pest         string `toml:"pest" json:"pest"`
	UnnamedStops bool   `toml:"unnamed-stops" json:"unnamed-stops"`
	OneVisit     bool   `toml:"one-visit" json:"one-visit,omitempty"`     // a walk that was finished days later
	Observers    string `toml:"observers" json:"observers,omitempty"`     // file of calibrate
	Corrections  string `toml:"corrections" json:"corrections,omitempty"` // file of cells that are read otherwise

	Places   string  `toml:"places" json:"places,omitempty"`       // file of where stops are
	TrackGap float64 `toml:"track-gap" json:"track-gap,omitempty"` // minutes; 0 is the default

	Columns   []string  `toml:"columns" json:"columns"`
	Map       []string  `toml:"map" json:"map"`
	UTM       string    `toml:"utm" json:"utm"`
	UTCOffset UTCOffset `toml:"utc-offset" json:"utc-offset,omitempty"`
	DateOrder DayOrder  `toml:"date-order" json:"date-order,omitempty"`
	Fix       []string  `toml:"fix" json:"fix"`
	Schema    string    `toml:"schema" json:"schema"`

	ChanceSettings

	Power     float64   `toml:"power" json:"power"`
	Neighbors Neighbors `toml:"neighbors" json:"neighbors"`
	Plain     bool      `toml:"plain" json:"plain"`
	Radius    float64   `toml:"radius" json:"radius"`
	Tune      bool      `toml:"tune" json:"tune"`

	Cell     float64  `toml:"cell" json:"cell"`
	Margin   float64  `toml:"margin" json:"margin"`
	MinArea  *float64 `toml:"min-area" json:"min-area"`
	Simplify *float64 `toml:"simplify" json:"simplify"`

	WriteSettings

	Units    figures.Units       `toml:"units" json:"units"`
	Language vocabulary.Language `toml:"language" json:"language,omitempty"`
	Strict   bool                `toml:"strict" json:"strict"`
}

// Said are the units and the language of what people read.
func (o Settings) Said() figures.Units { return o.Units.In(o.Language) }

// Defaults are the settings where nothing is asked for.
func Defaults() Settings {
	return Settings{Unit: "leaf", Power: interp.DefaultPower, Neighbors: Neighbors{interp.DefaultNeighbors}}
}

// assess are the options as the work takes them.
func (o Settings) assess() assess.Settings {
	s := assess.Settings{
		Levels:    assess.LevelSettings{TreatAt: o.TreatAt, WatchAt: o.WatchAt, NextVisit: o.NextVisit, Doubling: o.Doubling},
		Statistic: assess.Statistic{Unit: o.Unit, Tally: o.Tally, Part: o.Part, Sign: o.Sign},
		IDW:       interp.IDW{Power: o.Power, Neighbors: o.Neighbors.Count, Plain: o.Plain, Radius: o.Radius},
		Chance:    o.ChanceSettings.assess(),
		Only:      o.Only,
		Tune:      o.Tune, Cell: o.Cell, Margin: o.Margin,
		MinArea: o.MinArea, Simplify: o.Simplify,
		KeepSurface: o.draws(), // for the pictures
	}
	return s
}
