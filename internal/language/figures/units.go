package figures

import (
	"errors"
	"math"
	"strconv"

	"github.com/geocoris/geocoris/geo"
)

// Units say in which units quantities are shown. Files hold hectares, acres and metres
// whatever the choice. The zero value shows both. It is no string, as readers of settings
// put any text into one without asking [Units.UnmarshalText].
type Units uint8

// The choices of units; [Both] shows metric with US in brackets.
const (
	Both Units = iota
	Metric
	US
)

// Set takes a choice as it is typed.
func (u *Units) Set(text string) error {
	for _, choice := range []Units{Metric, US} {
		if text == choice.String() {
			*u = choice
			return nil
		}
	}
	return errors.New("want us or metric")
}

// String is the choice as it is typed; "" for both.
func (u Units) String() string {
	switch u {
	case Metric:
		return "metric"
	case US:
		return "us"
	}
	return ""
}

// Type names the choices in a command's help.
func (u *Units) Type() string { return "us|metric" }

// UnmarshalText takes a text of a settings file; "" is both.
func (u *Units) UnmarshalText(text []byte) error {
	if len(text) == 0 {
		*u = Both
		return nil
	}
	return u.Set(string(text))
}

// MarshalText writes what [Units.Set] reads; nothing for both.
func (u Units) MarshalText() ([]byte, error) { return []byte(u.String()), nil }

// Choose takes the metric text, the US one, or the second in brackets behind the first.
func (u Units) Choose(metric, us string) string {
	switch u {
	case Metric:
		return metric
	case US:
		return us
	}
	return metric + " (" + us + ")"
}

// Area writes an area in m², one too small for hectares or acres in m² or sq ft.
func (u Units) Area(m2 float64) string {
	ha, ac := Hectares(m2), Acres(m2)
	if m2 > 0 && Shown(ha) == 0 && (u != US || Shown(ac) == 0) {
		if u == US {
			return Short(max(1, math.Round(m2/geo.SquareMetresPerSquareFoot))) + " sq ft"
		}
		return Short(max(1, math.Round(m2))) + " m²"
	}
	return u.Choose(Fixed(ha)+" ha", Fixed(ac)+" ac")
}

// Between writes a range of areas in m², coarsely, as it is known no better: "1 to 4
// acres". A low end of none is left out, and ends that read alike are one.
func (u Units) Between(low, high float64) string {
	return u.Choose(between(Hectares(low), Hectares(high), "hectare"), between(Acres(low), Acres(high), "acre"))
}

func between(low, high float64, unit string) string {
	from, to := Coarse(low), Coarse(high)
	if to != "1" {
		unit += "s"
	}
	switch {
	case to == "0":
		return "less than 0.1 " + unit
	case from == to:
		return "about " + to + " " + unit
	case from == "0":
		return "up to " + to + " " + unit
	}
	return from + " to " + to + " " + unit
}

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
	if u == US {
		v = Acres(m2)
	}
	if v > 0 && Shown(v) == 0 {
		return "<" + Fixed(0.01)
	}
	return Fixed(v)
}

// AreaUnit is the unit of [Units.Bare].
func (u Units) AreaUnit() string {
	if u == US {
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
	return u.Choose(Short(m2)+" m²", Short(m2/geo.SquareMetresPerSquareFoot)+" sq ft")
}

// Length writes a short length in metres; one without end is a dash.
func (u Units) Length(m float64) string {
	if math.IsInf(m, 1) {
		return "–"
	}
	return u.Choose(Short(m)+" m", Short(m/geo.MetresPerFoot)+" ft")
}

// Distance is [Units.Length] said in passing: metres alone unless feet are chosen.
func (u Units) Distance(m float64) string {
	if u == Both {
		return Metric.Length(m)
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
	return u.Choose(Trimmed(m, decimals)+" m", Trimmed(m/geo.MetresPerFoot, 0)+" ft")
}

// Way writes a long length given in metres.
func (u Units) Way(m float64) string {
	return u.Choose(Fixed(m/1000)+" km", Fixed(m/geo.MetresPerMile)+" mi")
}

// Volume writes litres.
func (u Units) Volume(litres float64) string {
	return u.Choose(Short(litres)+" L", Short(litres/geo.LitresPerGallon)+" gal")
}

// Rate writes litres a hectare.
func (u Units) Rate(litresPerHectare float64) string {
	return u.Choose(Short(litresPerHectare)+" L/ha", Short(litresPerHectare/geo.LitresHaPerGallonAc)+" gal/ac")
}

// Speed writes metres a second.
func (u Units) Speed(mps float64) string {
	return u.Choose(Short(mps/geo.MetresSPerKilometreHour)+" km/h", Short(mps/geo.MetresSPerMileHour)+" mph")
}
