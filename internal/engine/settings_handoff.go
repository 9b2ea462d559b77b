//go:build !small

package engine

import (
	"errors"
	"fmt"
	"strings"

	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/language/vocabulary"
	"github.com/geocoris/geocoris/internal/scouting/layout"
	"github.com/geocoris/geocoris/internal/spraying/handoff"
	"github.com/geocoris/geocoris/internal/spraying/spray"
	"github.com/geocoris/geocoris/internal/spraying/taskdata"
)

// HandoffSettings are those of handoff.
type HandoffSettings struct {
	Only      []string    `toml:"only" json:"only,omitempty"` // fields; nil is all
	Swath     Length      `toml:"swath" json:"swath"`
	Sections  int         `toml:"sections" json:"sections"`
	Heading   *float64    `toml:"heading" json:"heading"` // degrees; nil for along the rows
	Rows      RowsSetting `toml:"rows" json:"rows"`
	Fewest    bool        `toml:"fewest-passes" json:"fewest-passes"`
	Speed     Speed       `toml:"speed" json:"speed"`
	Lag       Time        `toml:"lag" json:"lag"`
	MinLength Length      `toml:"min-length" json:"min-length"`
	Bridge    Length      `toml:"bridge" json:"bridge"`
	Turn      Time        `toml:"turn" json:"turn"`
	Overrun   Length      `toml:"overrun" json:"overrun"` // none typed: as far as a section over spray ground reaches

	StopError      Length       `toml:"stop-error" json:"stop-error"`
	SprayerError   Length       `toml:"sprayer-error" json:"sprayer-error"`
	Growth         Length       `toml:"growth" json:"growth"`
	SprayOn        string       `toml:"spray-on" json:"spray-on"`
	Margin         Length       `toml:"margin" json:"margin"`
	GoodFor        int          `toml:"good-for" json:"good-for"` // 0 until the day that the map says itself
	AgainstVerdict bool         `toml:"against-verdict" json:"against-verdict"`
	WholeField     bool         `toml:"whole-field" json:"whole-field"`
	RedOnly        bool         `toml:"red-only" json:"red-only"`
	Fallback       bool         `toml:"fallback" json:"fallback"`
	TrustEdited    bool         `toml:"trust-edited" json:"trust-edited"` // zones that a person edited are taken
	KeepOff        KeepOffFiles `toml:"keep-off" json:"keep-off"`
	Gate           Places       `toml:"gate" json:"gate"` // where fields are entered

	Rate    Rate     `toml:"rate" json:"rate"`
	Tank    Volume   `toml:"tank" json:"tank"`
	Product Products `toml:"product" json:"product"`

	IsoVersion int    `toml:"iso-version" json:"iso-version"`
	Height     Length `toml:"height" json:"height"` // above the ground, of what flies
	Drift      Length `toml:"drift" json:"drift"`
	GridType   int    `toml:"grid-type" json:"grid-type"`
	Customer   string `toml:"customer" json:"customer"`
	Farm       string `toml:"farm" json:"farm"`

	MaxPoints int    `toml:"max-points" json:"max-points"` // 0 for as many as there are
	Guidance  bool   `toml:"guidance" json:"guidance"`
	Grid      Length `toml:"grid" json:"grid"`

	Units    figures.Units       `toml:"units" json:"units"`
	Language vocabulary.Language `toml:"language" json:"language"` // of screen, sheet and names in KML
}

// mostHeight is a slip of the units beyond, m. Judgement, no source.
const mostHeight = 1000

// leastPoints are those of an outline and one piece of spray ground.
const leastPoints = 10

func phoneError() Length {
	return Length{&spray.Quantity{Value: layout.PhoneError, Unit: "m", Base: layout.PhoneError}}
}

// HandoffDefaults are the settings of handoff where nothing is asked for.
func HandoffDefaults() HandoffSettings {
	return HandoffSettings{Sections: 1, StopError: phoneError(), IsoVersion: 4, GridType: 1}
}

// Validate refuses settings that cannot be meant before anything is read.
func (o HandoffSettings) Validate() error {
	switch {
	case o.IsoVersion != 3 && o.IsoVersion != 4:
		return usage(fmt.Errorf("--iso-version %d: want 4 or 3", o.IsoVersion))
	case o.GridType != 1 && o.GridType != 2:
		return usage(fmt.Errorf("--grid-type %d: want 1 or 2", o.GridType))
	case o.GridType == 2 && o.Grid.Typed == nil:
		return usage(errors.New("--grid-type 2 is of a grid: give --grid with the length of its cells, such as --grid 3m"))
	case o.Sections < 1:
		return usage(fmt.Errorf("--sections %d: want 1 or more", o.Sections))
	case o.Tank.Typed != nil && !(o.Tank.base() > 0):
		return usage(fmt.Errorf("--tank %s: want a volume above 0, or leave it out", o.Tank.text()))
	case o.GoodFor < 0:
		return usage(fmt.Errorf("--good-for %d: want 1 day or more", o.GoodFor))
	case o.WholeField && o.RedOnly:
		return usage(errors.New("--whole-field and --red-only are two jobs: give one"))
	case o.Fallback && (o.WholeField || o.AgainstVerdict):
		return usage(errors.New("--fallback makes the job that the map names: leave out --whole-field and --against-verdict"))
	case o.Height.Typed != nil && !(o.Height.base() > 0 && o.Height.base() <= mostHeight):
		return usage(fmt.Errorf("--height %s: want more than 0 and %d m at the most", o.Height.text(), mostHeight))
	case o.Rate.Typed != nil && !(o.Rate.base() > 0 && o.Rate.base() <= taskdata.MostRate):
		return usage(fmt.Errorf("--rate %s: want more than 0 and %d L/ha at the most, off the label", o.Rate.text(), taskdata.MostRate))
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

func (o HandoffSettings) air() handoff.Air {
	return handoff.Air{Height: o.Height.Typed, Speed: o.Speed.Typed, Drift: o.Drift.Typed}
}

func (o HandoffSettings) taskForm() handoff.TaskForm {
	return handoff.TaskForm{Version: o.IsoVersion, Guidance: o.Guidance, GridType: o.GridType, Customer: o.Customer, Farm: o.Farm}
}

// texts are settings by their names as they would be typed, several of one name apart
// by spaces; "" where nothing is asked for.
func texts(settings any) (map[string]string, error) {
	values, err := byNames(settings)
	if err != nil {
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
