package report

import (
	"math"
	"strconv"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/geometry/zones"
)

// Units say in which areas and lengths are shown on the screen. Files hold
// hectares, acres and metres whatever the choice.
type Units string

const (
	Both   Units = ""       // hectares and acres, metres
	Metric Units = "metric" // hectares, metres
	US     Units = "us"     // acres, feet
)

func hectares(m2 float64) float64 { return m2 / geo.SquareMetresPerHectare }
func acres(m2 float64) float64    { return m2 / geo.SquareMetresPerAcre }

// rounded keeps a number of decimals; what is not a number stays so.
func rounded(v float64, decimals int) float64 {
	scale := math.Pow10(decimals)
	return math.Round(v*scale)/scale + 0
}

// figure is for JSON: null where there is no number.
func figure(v float64, decimals int) *float64 {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return nil
	}
	r := rounded(v, decimals)
	return &r
}

// property is [figure] for a feature.
func property(v float64, decimals int) any {
	if f := figure(v, decimals); f != nil {
		return *f
	}
	return nil
}

// decimals kept in files: areas to a square metre, shares to a hundredth of a
// per cent, counts and lengths as finely as anybody could use them.
const (
	areaDecimals   = 4
	shareDecimals  = 4
	countDecimals  = 2
	lengthDecimals = 2
	scoreDecimals  = 4
)

// short writes a number for the screen: about three figures, no needless noughts.
func short(v float64) string {
	switch a := math.Abs(v); {
	case math.IsNaN(v):
		return "–"
	case a == 0 || a >= 100:
		return strconv.FormatFloat(v, 'f', 0, 64)
	case a >= 10:
		return strconv.FormatFloat(rounded(v, 1), 'f', -1, 64)
	default:
		return strconv.FormatFloat(rounded(v, 2), 'f', -1, 64)
	}
}

// Levelled writes a value as [Short] does; one below a level never reads as that level
// for rounding.
func Levelled(v float64, l zones.Levels) string {
	text := short(v)
	for _, level := range []float64{l.WatchAt, l.TreatAt} {
		if v < level && reaches(text, level) {
			return "<" + short(level)
		}
	}
	return text
}

// reaches reports that a value, as it is written, does not stand below a level as that
// is written.
func reaches(text string, level float64) bool {
	shown, err := strconv.ParseFloat(text, 64)
	at, err2 := strconv.ParseFloat(short(level), 64)
	return err == nil && err2 == nil && shown >= at
}

// Highest writes the greatest value in a zone. One below the level at which the next
// zone begins never reads as that level for rounding, nor does a node on the line between
// the two that simplifying it left on this side.
func Highest(z zones.Zone, l zones.Levels) string {
	level := l.TreatAt
	if z.Class == zones.Clear {
		level = l.WatchAt
	}
	text := short(z.Max)
	if reaches(text, level) && (z.Max < level || z.Class != zones.Treat && text == short(level)) {
		return "<" + short(level)
	}
	return text
}

// area writes an area in the units chosen, one too small for them in m² or sq ft.
func (u Units) area(m2 float64) string {
	if ha := fixed(hectares(m2)); m2 > 0 && ha == "0.00" && (u != US || fixed(acres(m2)) == "0.00") {
		return smallArea(m2, u)
	}
	switch u {
	case Metric:
		return fixed(hectares(m2)) + " ha"
	case US:
		return fixed(acres(m2)) + " ac"
	}
	return fixed(hectares(m2)) + " ha (" + fixed(acres(m2)) + " ac)"
}

func smallArea(m2 float64, u Units) string {
	if u == US {
		return short(max(1, math.Round(m2/(geo.MetresPerFoot*geo.MetresPerFoot)))) + " sq ft"
	}
	return short(max(1, math.Round(m2))) + " m²"
}

// length writes a length in the units chosen.
func (u Units) length(metres float64) string {
	if u == US {
		return strconv.FormatFloat(metres/geo.MetresPerFoot, 'f', 0, 64) + " ft"
	}
	return short(metres) + " m"
}

// fixed keeps columns of areas in line: two decimals below 100, one above.
func fixed(v float64) string {
	if v < 100 {
		return strconv.FormatFloat(v, 'f', 2, 64)
	}
	return strconv.FormatFloat(v, 'f', 1, 64)
}
