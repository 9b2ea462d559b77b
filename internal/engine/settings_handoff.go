//go:build !small

package engine

import (
	"encoding/json"
	"errors"
	"fmt"
	"strings"

	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/language/vocabulary"
	"github.com/geocoris/geocoris/internal/spraying/handoff"
	"github.com/geocoris/geocoris/internal/spraying/spray"
)

// HandoffSettings are those of handoff.
type HandoffSettings struct {
	Only      []string    `json:"only,omitempty"` // fields; nil is all
	Swath     Length      `json:"swath"`
	Sections  int         `json:"sections"`
	Heading   *float64    `json:"heading"` // degrees; nil for along the rows
	Rows      RowsSetting `json:"rows"`
	Fewest    bool        `json:"fewest-passes"`
	Speed     Speed       `json:"speed"`
	Lag       Time        `json:"lag"`
	MinLength Length      `json:"min-length"`
	Bridge    Length      `json:"bridge"`
	Turn      Time        `json:"turn"`
	Overrun   Length      `json:"overrun"` // none typed: as far as a section over spray ground reaches

	StopError      Length       `json:"stop-error"`
	SprayerError   Length       `json:"sprayer-error"`
	Growth         Length       `json:"growth"`
	SprayOn        string       `json:"spray-on"`
	Margin         Length       `json:"margin"`
	GoodFor        int          `json:"good-for"` // 0 until the day that the map says itself
	AgainstVerdict bool         `json:"against-verdict"`
	WholeField     bool         `json:"whole-field"`
	RedOnly        bool         `json:"red-only"`
	Fallback       bool         `json:"fallback"`
	TrustEdited    bool         `json:"trust-edited"` // zones that a person edited are taken
	KeepOff        KeepOffFiles `json:"keep-off"`
	Gate           Places       `json:"gate"` // where fields are entered

	Rate    Rate     `json:"rate"`
	Tank    Volume   `json:"tank"`
	Product Products `json:"product"`

	IsoVersion int    `json:"iso-version"`
	MaxPoints  int    `json:"max-points"` // 0 for as many as there are
	Guidance   bool   `json:"guidance"`
	Grid       Length `json:"grid"`

	Units    figures.Units       `json:"units"`
	Language vocabulary.Language `json:"language"` // of screen, sheet and names in KML
}

// leastPoints are those of an outline and one piece of spray ground.
const leastPoints = 10

// phoneError is how far a phone's fix may be off in the open, 95 %: 4.9 m
// (GPS.gov, after van Diggelen & Enge 2015).
func phoneError() Length { return Length{&spray.Quantity{Value: 4.9, Unit: "m", Base: 4.9}} }

// HandoffDefaults are the settings of handoff where nothing is asked for.
func HandoffDefaults() HandoffSettings {
	return HandoffSettings{Sections: 1, StopError: phoneError(), IsoVersion: 4}
}

// Validate refuses settings that cannot be meant before anything is read.
func (o HandoffSettings) Validate() error {
	switch {
	case o.IsoVersion != 3 && o.IsoVersion != 4:
		return usage(fmt.Errorf("--iso-version %d: want 4 or 3", o.IsoVersion))
	case o.GoodFor < 0:
		return usage(fmt.Errorf("--good-for %d: want 1 day or more", o.GoodFor))
	case o.WholeField && o.RedOnly:
		return usage(errors.New("--whole-field and --red-only are two jobs: give one"))
	case o.Fallback && (o.WholeField || o.AgainstVerdict):
		return usage(errors.New("--fallback makes the job that the map names: leave out --whole-field and --against-verdict"))
	case o.MaxPoints != 0 && o.MaxPoints < leastPoints:
		return usage(fmt.Errorf("--max-points %d: want %d or more", o.MaxPoints, leastPoints))
	case o.Heading != nil && o.Fewest:
		return usage(errTwoHeadings)
	case o.Guidance && o.IsoVersion == 3:
		return usage(errors.New("--guidance: version 3 of the task data has no A–B line; leave out --iso-version 3"))
	}
	if err := o.spray().Validate(); err != nil {
		return usage(err)
	}
	return nil
}

func (o HandoffSettings) spray() spray.Settings {
	set := spray.Settings{
		Swath: o.Swath.base(), Sections: o.Sections, Heading: o.Heading, FewestPasses: o.Fewest, Speed: o.Speed.base(), Lag: o.Lag.base(),
		MinLength: o.MinLength.base(), Bridge: o.Bridge.base(), TurnTime: o.Turn.base(),
	}
	if o.Overrun.Typed != nil {
		set.Overrun = &o.Overrun.Typed.Base
	}
	return set
}

// handoff are the settings as the work takes them.
func (o HandoffSettings) handoff() handoff.Settings {
	set := handoff.Settings{
		Margin: spray.Margin{StopError: o.StopError.base(), SprayerError: o.SprayerError.base(), Growth: o.Growth.base(), Extra: o.Margin.base()},
		Spray:  o.spray(), SprayOn: o.SprayOn, GoodFor: o.GoodFor, AgainstVerdict: o.AgainstVerdict, WholeField: o.WholeField, RedOnly: o.RedOnly, Fallback: o.Fallback, Cell: o.cell(), MaxPoints: o.MaxPoints, Only: o.Only,
	}
	for _, at := range o.Gate {
		set.GateAt(at)
	}
	return set
}

// cell is the side of the cells of the task data, m; 0 where these are polygons or are
// not written.
func (o HandoffSettings) cell() float64 {
	if o.Rate.Typed == nil {
		return 0
	}
	return o.Grid.base()
}

func (o HandoffSettings) mix() handoff.Mix {
	return handoff.Mix{Rate: o.Rate.Typed, Tank: o.Tank.Typed, Products: o.Product.plain()}
}

// texts are settings by their names as they would be typed, several of one name apart
// by spaces; "" where nothing is asked for.
func texts(settings any) (map[string]string, error) {
	all, err := json.Marshal(settings)
	if err != nil {
		return nil, err
	}
	var values map[string]any
	if err := json.Unmarshal(all, &values); err != nil {
		return nil, err
	}
	out := map[string]string{}
	for name, value := range values {
		switch v := value.(type) {
		case nil:
			out[name] = ""
		case []any:
			var parts []string
			for _, one := range v {
				parts = append(parts, fmt.Sprint(one))
			}
			out[name] = strings.Join(parts, " ")
		default:
			out[name] = fmt.Sprint(v)
		}
	}
	return out, nil
}
