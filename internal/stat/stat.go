// Package stat holds the few statistics that several parts of the program share. Sums
// go from the first value to the last, one after the other, so that results are the
// same to the bit on every machine: libraries add up in an order of the processor's.
package stat

import "math"

// An Interval holds a figure between two ends. Both are NaN where it is not known.
type Interval struct{ Low, High float64 }

// Unknown is the interval of what is not known.
func Unknown() Interval { return Interval{math.NaN(), math.NaN()} }

// Known reports whether the interval is known.
func (i Interval) Known() bool { return !math.IsNaN(i.Low) && !math.IsNaN(i.High) }

// Mean is that of some values, NaN of none.
func Mean(v []float64) float64 {
	var sum float64
	for _, x := range v {
		sum += x
	}
	return sum / float64(len(v))
}

// Quantile interpolates between sorted values, at least one (type 7 of Hyndman & Fan
// 1996, Am. Stat. 50:361–365); beside an infinite value the one farther out is taken.
func Quantile(sorted []float64, p float64) float64 {
	at := p * float64(len(sorted)-1)
	i := int(at)
	if i+1 >= len(sorted) || sorted[i] == sorted[i+1] {
		return sorted[min(i, len(sorted)-1)]
	}
	part := at - float64(i)
	if math.IsInf(sorted[i], 0) || part == 0 {
		return sorted[i]
	}
	return sorted[i] + float64(part*(sorted[i+1]-sorted[i]))
}

// A Cluster is what was found on the units of one stop.
type Cluster struct{ Total, Units float64 }

// DesignEffect is the variance of a mean of units that were drawn in clusters over that
// of as many independent units, j/(j−1)·Σ(total − mean·units)²/expected over j clusters,
// and no less than 1 (Rao & Scott 1992, Biometrics 48:577–585). expected, above 0, is
// what the sum would be of independent units: their number times the variance of one.
// Fewer than two clusters show none: that is NaN.
func DesignEffect(clusters []Cluster, expected float64) float64 {
	if len(clusters) < 2 {
		return math.NaN()
	}
	var total, units, squares float64
	for _, c := range clusters {
		total, units = total+c.Total, units+c.Units
	}
	mean := total / units
	for _, c := range clusters {
		d := c.Total - float64(mean*c.Units)
		squares += float64(d * d)
	}
	j := float64(len(clusters))
	return max(1, j/(j-1)*squares/expected)
}
