package fieldstats

import (
	"math"
	"math/rand/v2"
	"slices"

	"github.com/geocoris/geocoris/internal/stat"
)

// A Stop is what one stop says.
type Stop struct {
	X, Y     float64 // metres
	Value    float64 // of the statistic
	Units    float64 // looked at; above 0
	Hits     float64 // units at or above the tally; NaN where not given
	Infested float64 // units with any; NaN where not given
	Found    bool    // anything at all
	Extra    bool    // added where more was to be learnt: not of the mean
	Inside   float64 // metres from the field's edge; 0 or below on it or outside
}

// Settings of what is drawn at random. Zero fields mean the defaults.
type Settings struct {
	Seed      uint64  // 1996
	Resamples int     // 2000 for intervals, 999 for p-values
	Level     float64 // of intervals; 0.95
}

// DefaultSeed is that of draws where none is given.
const DefaultSeed = 1996

const (
	usualResamples    = 2000
	usualPermutations = 999
	usualLevel        = 0.95
)

func (s Settings) level() float64 {
	if s.Level == 0 {
		return usualLevel
	}
	return s.Level
}

func (s Settings) draws(usual int) int {
	if s.Resamples <= 0 {
		return usual
	}
	return s.Resamples
}

// Streams keep intervals and permutations from sharing draws.
const (
	intervalStream = iota + 1
	permutationStream
)

func (s Settings) generator(stream uint64) *rand.Rand { return rand.New(rand.NewPCG(s.seed(), stream)) }

func (s Settings) seed() uint64 {
	if s.Seed == 0 {
		return DefaultSeed
	}
	return s.Seed
}

func values(stops []Stop) []float64 {
	v := make([]float64, len(stops))
	for i, s := range stops {
		v[i] = s.Value
	}
	return v
}

// Mean is that of some values, NaN of none.
func Mean(v []float64) float64 { return stat.Mean(v) }

// Variance is that of a sample, with n − 1; NaN of fewer than two.
func Variance(v []float64) float64 {
	return varianceAbout(Mean(v), v)
}

// varianceAbout is Variance where the mean is known.
func varianceAbout(m float64, v []float64) float64 {
	if len(v) < 2 {
		return math.NaN()
	}
	var squares float64
	for _, x := range v {
		d := x - m
		squares += float64(d * d)
	}
	return squares / float64(len(v)-1)
}

// Median is the middle of some values, half-way between the two middle ones where
// their number is even; NaN of none.
func Median(v []float64) float64 {
	if len(v) == 0 {
		return math.NaN()
	}
	s := slices.Sorted(slices.Values(v))
	return stat.Quantile(s, 0.5)
}
