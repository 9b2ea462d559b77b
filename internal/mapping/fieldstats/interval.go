package fieldstats

import (
	"math"
	"slices"

	"github.com/geocoris/geocoris/internal/stat"
)

// An Interval holds a figure between two ends.
type Interval = stat.Interval

// LeastStops is how many stops must be there to tell a spread.
const LeastStops = 3

// MeanInterval holds the field's mean of values that are never negative, one for
// each stop. Stops are resampled whole, and the interval is the bootstrap-t one
// (Efron 1981, Can. J. Stat. 9:139–158; Hall 1988, Ann. Stat. 16:927–953, both from
// memory): counts are skewed, and the usual interval then ends too low nearly all
// of the times that it misses. Since most of what is missed lies between the stops,
// the high end is no less than that of the stops and one more as high as the highest. The
// interval is unknown for fewer than three stops and where all say the same; its low
// end is never below 0, and its high end never above the highest stop, as draws
// without the few stops that hold the pest would have it. TestMeanIntervalCovers
// says how often it holds the mean of invented fields.
func (s Settings) MeanInterval(v []float64) Interval {
	n := len(v)
	v = slices.Sorted(slices.Values(v)) // draws go by number, and rows come in any order
	if _, se := meanAndError(v); n < LeastStops || !(se > 0) {
		return stat.Unknown()
	}
	most := v[n-1]
	beside := make(chan Interval, 1)
	go func() { beside <- s.bootstrapT(append(slices.Clone(v), most)) }()
	of, with := s.bootstrapT(v), <-beside
	return Interval{Low: max(0, of.Low), High: min(most, max(of.High, with.High))}
}

// bootstrapT is the bootstrap-t interval of the mean.
func (s Settings) bootstrapT(v []float64) Interval {
	at, se := meanAndError(v)
	tail := (1 - s.level()) / 2
	low, high, sure := expanded(v, tail, s.draws(usualResamples))
	if !sure {
		t := s.drawn(v, at, tail)
		low, high = stat.Quantile(t, tail), stat.Quantile(t, 1-tail)
	}
	return Interval{Low: at - float64(high*se), High: at - float64(low*se)}
}

// drawn are the distances of resampled means from that of the values, each in its own
// standard errors: ascending at both ends, as far as they tell the quantiles at a tail and at
// what it leaves of 1.
func (s Settings) drawn(v []float64, at, tail float64) []float64 {
	t := make([]float64, s.draws(usualResamples))
	numbers := s.numbers(len(t) * len(v))
	one, other := make([]float64, len(v)), make([]float64, len(v))
	for i := 0; i < len(t); i += 2 {
		numbers.draw(v, one)
		numbers.draw(v, other)
		a, b := inErrors(at, one, other)
		if t[i] = a; i+1 < len(t) {
			t[i+1] = b
		}
	}
	sortEnds(t, int(tail*float64(len(t)))+2) // a quantile lies between two
	return t
}

// inErrors are the distances of the means of two draws, of two values or more, from a value,
// each in its own standard errors; 0 for a draw without spread that shows the same. Both at
// once take hardly longer than one, whose sums wait for each value in turn.
func inErrors(at float64, one, other []float64) (t, u float64) {
	other = other[:len(one)]
	var m, l, mm, ll float64
	for k, x := range one {
		m += x
		l += other[k]
	}
	n := float64(len(one))
	m, l = m/n, l/n
	for k, x := range one {
		a, b := x-m, other[k]-l
		mm += float64(a * a)
		ll += float64(b * b)
	}
	if t = (m - at) / math.Sqrt(mm/(n-1)/n); math.IsNaN(t) {
		t = 0
	}
	if u = (l - at) / math.Sqrt(ll/(n-1)/n); math.IsNaN(u) {
		u = 0
	}
	return t, u
}

// sortEnds puts the least and the greatest values, so many each, to their ends, ascending.
// What is drawn in any order has few that go there, and all need not be sorted.
func sortEnds(t []float64, n int) {
	if n > len(t)/4 {
		slices.Sort(t)
		return
	}
	low, rest := t[:n], t[n:]
	slices.Sort(low)
	for i, x := range rest {
		if x < low[n-1] {
			rest[i], low[n-1] = low[n-1], x
			for k := n - 1; k > 0 && low[k] < low[k-1]; k-- {
				low[k], low[k-1] = low[k-1], low[k]
			}
		}
	}
	rest, high := rest[:len(rest)-n], rest[len(rest)-n:]
	slices.Sort(high)
	for i, x := range rest {
		if x > high[0] {
			rest[i], high[0] = high[0], x
			for k := 0; k < n-1 && high[k] > high[k+1]; k++ {
				high[k], high[k+1] = high[k+1], high[k]
			}
		}
	}
}

// meanAndError is the mean and its standard error.
func meanAndError(v []float64) (mean, se float64) {
	mean = Mean(v)
	return mean, errorAbout(mean, v)
}

// errorAbout is the standard error of a mean that is known.
func errorAbout(mean float64, v []float64) float64 {
	return math.Sqrt(varianceAbout(mean, v) / float64(len(v)))
}

// Wilson is the score interval of a share of k in n, at a level such as 0.95
// (Wilson 1927, J. Am. Stat. Assoc. 22:209–212). It is unknown where n is 0; k and
// n need not be whole, so that n may be an effective number.
func Wilson(k, n, level float64) Interval {
	if !(n > 0) || !(k >= 0) || !(k <= n) {
		return stat.Unknown()
	}
	z := normalQuantile((1 + level) / 2)
	p, zz := k/n, float64(z*z)
	middle := (p + zz/(2*n)) / (1 + zz/n)
	half := z / (1 + zz/n) * math.Sqrt(p*(1-p)/n+zz/(4*n*n))
	return Interval{Low: max(0, middle-half), High: min(1, middle+half)}
}

// normalQuantile is the point below which a standard normal lies with chance p.
func normalQuantile(p float64) float64 { return math.Sqrt2 * math.Erfinv(2*p-1) }
