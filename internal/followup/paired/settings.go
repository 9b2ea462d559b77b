package paired

import (
	"fmt"
	"math/rand/v2"
)

// Defaults: enough draws that the second figure of a p-value and of an interval's
// ends holds; 0.05 and 95 % are common practice.
const (
	defaultPermutations = 9999
	defaultResamples    = 1999
	defaultLevel        = 0.95
)

// Settings say how chance is drawn. The zero value is the documented default.
type Settings struct {
	Seed         uint64  // of the generator; 0 is a seed like any other
	Permutations int     // 0 is 9999
	Resamples    int     // for intervals; 0 is 1999
	Level        float64 // of intervals, and 1 less what stands out; 0 is 0.95
}

func (s Settings) withDefaults() Settings {
	if s.Permutations == 0 {
		s.Permutations = defaultPermutations
	}
	if s.Resamples == 0 {
		s.Resamples = defaultResamples
	}
	if s.Level == 0 {
		s.Level = defaultLevel
	}
	return s
}

// Validate reports settings that cannot be meant.
func (s Settings) Validate() error {
	const fewest = 99 // below it no p-value of 0.05 has a meaning
	s = s.withDefaults()
	if s.Permutations < fewest || s.Resamples < fewest {
		return fmt.Errorf("%d permutations, %d resamples: want %d or more of each", s.Permutations, s.Resamples, fewest)
	}
	if !(s.Level > 0.5 && s.Level < 1) {
		return fmt.Errorf("level %g of the interval: want a number above 0.5 and below 1", s.Level)
	}
	return nil
}

// The two uses of chance draw from streams of their own, so that asking for one
// does not change the other.
const (
	permutationStream = 1
	resampleStream    = 2
)

func (s Settings) generator(stream uint64) *rand.Rand {
	return rand.New(rand.NewPCG(s.Seed, stream))
}
