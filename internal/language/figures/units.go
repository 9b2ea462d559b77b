package figures

import (
	"errors"
	"math"
	"strconv"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/language/vocabulary"
)

// Units say in which units quantities are shown, and in which language they and the words
// about them are. Files hold hectares, acres and metres whatever the choice. The zero
// value shows both, in English.
type Units struct {
	choice   choice
	language vocabulary.Language
}

type choice uint8

const (
	both choice = iota
	metric
	us
)

// The choices of units, in English; [Both] shows metric with US in brackets.
var (
	Both   = Units{}
	Metric = Units{choice: metric}
	US     = Units{choice: us}
)

// In are the same units in a language.
func (u Units) In(l vocabulary.Language) Units { return Units{u.choice, l} }

// Language is that of the words.
func (u Units) Language() vocabulary.Language { return u.language }

// InUS reports whether US units alone are shown; in which language does not matter.
func (u Units) InUS() bool { return u.choice == us }

// InBoth reports whether quantities are shown in both units.
func (u Units) InBoth() bool { return u.choice == both }

// Set takes a choice as it is typed.
func (u *Units) Set(text string) error {
	for _, choice := range []Units{Metric, US} {
		if text == choice.String() {
			u.choice = choice.choice
			return nil
		}
	}
	return errors.New("want us or metric")
}

// String is the choice as it is typed; "" for both.
func (u Units) String() string {
	switch u.choice {
	case metric:
		return "metric"
	case us:
		return "us"
	}
	return ""
}

// Type names the choices in a command's help.
func (u *Units) Type() string { return "us|metric" }

// UnmarshalText takes a text of a settings file; "" is both.
func (u *Units) UnmarshalText(text []byte) error {
	if len(text) == 0 {
		u.choice = both
		return nil
	}
	return u.Set(string(text))
}

// MarshalText writes what [Units.Set] reads; nothing for both.
func (u Units) MarshalText() ([]byte, error) { return []byte(u.String()), nil }

// Choose takes the metric text, the US one, or the second in brackets behind the first.
func (u Units) Choose(inMetric, inUS string) string {
	switch u.choice {
	case metric:
		return inMetric
	case us:
		return inUS
	}
	return inMetric + " (" + inUS + ")"
}

// Area writes an area in m², one too small for hectares or acres in m² or sq ft.
func (u Units) Area(m2 float64) string {
	ha, ac := Hectares(m2), Acres(m2)
	if m2 > 0 && Shown(ha) == 0 && (!u.InUS() || Shown(ac) == 0) {
		if u.InUS() {
			return u.squareFeet(max(1, math.Round(m2/geo.SquareMetresPerSquareFoot)))
		}
		return u.Short(max(1, math.Round(m2))) + " m²"
	}
	return u.Choose(u.Fixed(ha)+" ha", u.Fixed(ac)+" ac")
}

// Between writes a range of areas in m², coarsely, as it is known no better: "1 to 4
// acres". A low end of none is left out, and ends that read alike are one.
func (u Units) Between(low, high float64) string {
	return u.Choose(u.between(Hectares(low), Hectares(high), "hectare"), u.between(Acres(low), Acres(high), "acre"))
}

func (u Units) between(low, high float64, unit string) string {
	from, to := Coarse(low), Coarse(high)
	many := 2
	if to == "1" {
		many = 1
	}
	unit = u.language.Things(many, unit)
	switch {
	case to == "0":
		return u.Say("less than 0.1 %s", unit)
	case from == to:
		return u.Say("about %s %s", to, unit)
	case from == "0":
		return u.Say("up to %s %s", to, unit)
	}
	return u.Say("%s to %s %s", from, to, unit)
}

// squareFeet writes an area in square feet.
func (u Units) squareFeet(v float64) string { return u.Say("%s sq ft", u.Short(v)) }

// Coarse writes a number of 0 or more that is known roughly: whole from ten on, to halves
// from one on, below that to a tenth.
func Coarse(v float64) string {
	step := 0.1
	switch {
	case v >= 10:
		step = 1
	case v >= 1:
		step = 0.5
	}
	return strconv.FormatFloat(math.Round(v/step)*step, 'g', 10, 64)
}

// Bare is an area in m² as a number alone, for tables: in acres where those are chosen,
// else in hectares. One above 0 never reads as none.
func (u Units) Bare(m2 float64) string {
	v := Hectares(m2)
	if u.InUS() {
		v = Acres(m2)
	}
	if v > 0 && Shown(v) == 0 {
		return "<" + u.Fixed(0.01)
	}
	return u.Fixed(v)
}

// AreaUnit is the unit of [Units.Bare].
func (u Units) AreaUnit() string {
	if u.InUS() {
		return "ac"
	}
	return "ha"
}

// Hectares of an area in m².
func Hectares(m2 float64) float64 { return m2 / geo.SquareMetresPerHectare }

// Acres of an area in m².
func Acres(m2 float64) float64 { return m2 / geo.SquareMetresPerAcre }

// Patch writes a small piece of ground in m².
func (u Units) Patch(m2 float64) string {
	return u.Choose(u.Short(m2)+" m²", u.squareFeet(m2/geo.SquareMetresPerSquareFoot))
}

// Length writes a short length in metres; one without end is a dash.
func (u Units) Length(m float64) string {
	if math.IsInf(m, 1) {
		return "–"
	}
	return u.Choose(u.Short(m)+" m", u.Short(m/geo.MetresPerFoot)+" ft")
}

// Distance is [Units.Length] said in passing: metres alone unless feet are chosen.
func (u Units) Distance(m float64) string {
	if u.InBoth() {
		return Metric.In(u.language).Length(m)
	}
	return u.Length(m)
}

// Estimate writes a short length that is known roughly, such as an error of positions:
// whole feet, and metres with a decimal below ten.
func (u Units) Estimate(m float64) string {
	if math.IsInf(m, 1) {
		return "–"
	}
	decimals := 1
	if m >= 9.95 {
		decimals = 0
	}
	return u.Choose(u.Trimmed(m, decimals)+" m", u.Trimmed(m/geo.MetresPerFoot, 0)+" ft")
}

// Way writes a long length given in metres.
func (u Units) Way(m float64) string {
	return u.Choose(u.Fixed(m/1000)+" km", u.Fixed(m/geo.MetresPerMile)+" mi")
}

// Volume writes litres.
func (u Units) Volume(litres float64) string {
	return u.Choose(u.Short(litres)+" L", u.Short(litres/geo.LitresPerGallon)+" gal")
}

// Rate writes litres a hectare.
func (u Units) Rate(litresPerHectare float64) string {
	return u.Choose(u.Short(litresPerHectare)+" L/ha", u.Short(litresPerHectare/geo.LitresHaPerGallonAc)+" gal/ac")
}

// Speed writes metres a second.
func (u Units) Speed(mps float64) string {
	return u.Choose(u.Short(mps/geo.MetresSPerKilometreHour)+" km/h", u.Short(mps/geo.MetresSPerMileHour)+" mph")
}
