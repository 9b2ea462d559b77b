package fieldstats

import (
	"gonum.org/v1/gonum/stat/distuv"

	"github.com/geocoris/geocoris/internal/stat"
)

// Jeffreys is the equal-tailed interval of a share of which k of n were found, at a
// level such as 0.9: quantiles of a beta distribution with k + ½ and n − k + ½, from 0
// where k is 0 and to 1 where it is n (Brown, Cai & DasGupta 2001, Stat. Sci.
// 16:101–133). It is unknown where n is not above 0 or k is not within 0 to n.
func Jeffreys(k, n, level float64) Interval {
	if !(n > 0) || !(k >= 0) || !(k <= n) {
		return stat.Unknown()
	}
	tail, i := (1-level)/2, Interval{Low: 0, High: 1}
	of := distuv.Beta{Alpha: k + 0.5, Beta: n - k + 0.5}
	if k > 0 {
		i.Low = of.Quantile(tail)
	}
	if k < n {
		i.High = of.Quantile(1 - tail)
	}
	return i
}

// AreaOver holds the area over a level, in the unit of area, by the stops: of so many
// planned ones spread over the field so many are over. expected is the area that a
// model of chance expects over, NaN where there is none: it sees where stops stand and
// may lie beyond what their number alone would say, so the interval reaches to it.
func AreaOver(over, stops int, area, expected, level float64) Interval {
	i := Jeffreys(float64(over), float64(stops), level)
	i.Low, i.High = i.Low*area, i.High*area
	if i.Known() && expected >= 0 && expected <= area {
		i.Low, i.High = min(i.Low, expected), max(i.High, expected)
	}
	return i
}
