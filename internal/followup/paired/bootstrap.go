package paired

import (
	"math"
	"slices"

	"github.com/geocoris/geocoris/internal/stat"
)

// FewestPlaces is how many places of a group tell a spread.
const FewestPlaces = 3

// An Interval holds a figure between two ends.
type Interval = stat.Interval

// stratum is a group of places resampled together: the values found at them on
// either side of a ratio. One side may be empty.
type stratum struct{ over, under []float64 }

func (s stratum) len() int { return max(len(s.over), len(s.under)) }

// logRatio is ln of a product of mean ratios, one for each stratum; of shares, of
// the ratios of their odds.
type logRatio struct {
	strata []stratum
	scale  Scale
}

// of gives the log ratio of a draw of indexes for each stratum, and its standard
// error by the delta method: within strata the spread of over less under, each from
// its mean and times the slope of the logarithm there.
func (l logRatio) of(draw [][]int) (value, se float64) {
	var variance float64
	for g, s := range l.strata {
		over, under := meanOf(s.over, draw[g]), meanOf(s.under, draw[g])
		if len(s.over) > 0 {
			value += l.scale.Log(over)
		}
		if len(s.under) > 0 {
			value -= l.scale.Log(under)
		}
		var squares float64
		for _, i := range draw[g] {
			u := l.off(s.over, i, over) - l.off(s.under, i, under)
			squares += float64(u * u)
		}
		n := float64(len(draw[g]))
		variance += squares / (n * (n - 1))
	}
	return value, math.Sqrt(variance)
}

// off is how far a value lies from its mean on the scale of logarithms.
func (l logRatio) off(values []float64, i int, mean float64) float64 {
	if len(values) == 0 {
		return 0
	}
	return (values[i] - mean) * l.scale.slope(mean)
}

func meanOf(values []float64, draw []int) float64 {
	if len(values) == 0 {
		return 0
	}
	var sum float64
	for _, i := range draw {
		sum += values[i]
	}
	return sum / float64(len(draw))
}

// whole counts every place once.
func (l logRatio) whole() [][]int {
	draw := make([][]int, len(l.strata))
	for g, s := range l.strata {
		draw[g] = make([]int, s.len())
		for k := range draw[g] {
			draw[g][k] = k
		}
	}
	return draw
}

// interval resamples places within strata and returns the symmetric bootstrap-t
// interval of the log ratio (Hall 1988, Ann. Stat. 16:927–953): skewed counts make
// plain percentiles too narrow. Groups of fewer than [FewestPlaces] tell no spread.
// A draw that finds nothing on a side tells no ratio and is taken as farther off
// than any other; where such draws reach the level the interval is unknown.
func (s Settings) interval(l logRatio) Interval {
	s = s.withDefaults()
	for _, g := range l.strata {
		if g.len() < FewestPlaces {
			return stat.Unknown()
		}
	}
	draw := l.whole()
	at, se := l.of(draw)
	rng := s.generator(resampleStream)
	t := make([]float64, s.Resamples)
	for i := range t {
		for g := range draw {
			for k := range draw[g] {
				draw[g][k] = rng.IntN(len(draw[g]))
			}
		}
		value, spread := l.of(draw)
		t[i] = apart(value, at, spread)
	}
	slices.Sort(t)
	width := stat.Quantile(t, s.Level) * se
	if math.IsNaN(width) || math.IsInf(width, 0) || width == 0 {
		return stat.Unknown()
	}
	return Interval{Low: at - width, High: at + width}
}

// apart is how many standard errors a draw lies from the whole.
func apart(value, at, spread float64) float64 {
	switch {
	case math.IsNaN(value) || math.IsInf(value, 0):
		return math.Inf(1)
	case value == at: // also of a draw without spread
		return 0
	}
	return math.Abs(value-at) / spread
}
