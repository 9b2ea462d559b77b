package report

import (
	"math"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/geometry/zones"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/assess"
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

// Highest writes the value of the highest stop in a zone, as [Levelled] does; a dash where no stop
// lies in it. The greatest value of the surface there is no finding: it is the level at which the
// next zone begins wherever one lies beside, but for rounding.
func Highest(f *assess.Field, c zones.Class, l zones.Levels) string {
	most := math.NaN()
	for i := range f.Stops {
		if s := &f.Stops[i]; s.Zone == c && !(s.Value <= most) {
			most = s.Value
		}
	}
	return Levelled(most, l)
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
