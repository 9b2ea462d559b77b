package report

import (
	"math"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/geometry/zones"
	"github.com/geocoris/geocoris/internal/language/figures"
)

// figure is for JSON: null where there is no number.
func figure(v float64, decimals int) *float64 {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return nil
	}
	r := figures.Rounded(v, decimals)
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

// Levelled writes a value as [figures.Short] does; one below a level never reads as that level
// for rounding.
func Levelled(v float64, l zones.Levels) string {
	for _, level := range []float64{l.WatchAt, l.TreatAt} {
		if v < level && reaches(v, level) {
			return "<" + figures.Level(level)
		}
	}
	if l.TreatAt > 0 && v >= l.TreatAt {
		return figures.Level(v)
	}
	return figures.Short(v)
}

// reaches reports that a value, as it is written, does not stand below a level as that
// is written.
func reaches(v, level float64) bool { return figures.Shown(v) >= figures.Shown(level) }

// Highest writes the greatest value in a zone. One below the level at which the next
// zone begins never reads as that level for rounding, nor does a node on the line between
// the two that simplifying it left on this side.
func Highest(z zones.Zone, l zones.Levels) string {
	level := l.TreatAt
	if z.Class == zones.Clear {
		level = l.WatchAt
	}
	atIt := figures.Shown(z.Max) == figures.Shown(level)
	if reaches(z.Max, level) && (z.Max < level || z.Class != zones.Treat && atIt) {
		return "<" + figures.Level(level)
	}
	return figures.Short(z.Max)
}

// PropertyArea writes the area of a feature by its property area_ha, for its name.
func PropertyArea(p geo.Properties) string {
	v, _ := p.Get("area_ha")
	ha, ok := v.(float64)
	if !ok {
		ha = math.NaN()
	}
	return figures.Metric.Area(ha * geo.SquareMetresPerHectare)
}
