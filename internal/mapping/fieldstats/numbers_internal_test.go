package fieldstats

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Numbers that are kept are those of the generator, for who asks for few, more, or more
// than are kept, and of another seed in between.
func TestNumbersAreThoseOfTheGenerator(t *testing.T) {
	for _, c := range []struct {
		s         Settings
		want, n   int
		lookAhead int
	}{{Settings{}, 10, 60, 100}, {Settings{Seed: 7}, 500, 64, 600}, {Settings{}, 2000, 61, 5000}, {Settings{}, mostKept + 9, 3, mostKept + 100}, {Settings{}, 1, 1, 10}} {
		rng, numbers := c.s.generator(intervalStream), c.s.numbers(c.want)
		for i := range c.lookAhead {
			require.Equal(t, rng.IntN(c.n), int(numbers.below(uint64(c.n))), "%+v, number %d", c, i)
		}
	}
	assert.LessOrEqual(t, len(made.kept), mostKept)
}

// A number that would make the low ones more frequent is passed over.
func TestNumbersThatArePassedOver(t *testing.T) {
	const n = 3 << 62 // of 2⁶⁴ a quarter is passed over
	source := rand.NewPCG(1, 2)
	rng, s := rand.New(rand.NewPCG(1, 2)), numbers{more: *source}
	for range 200 {
		require.Equal(t, rng.Uint64N(n), s.below(n))
	}
}

// Both ends are those of the sorted values, ties, infinite ones and lists of a few included.
func TestSortedEnds(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 5))
	for _, size := range []int{0, 1, 2, 7, 8, 9, 200, 2000} {
		for _, n := range []int{1, 2, size / 40, size/4 - 1, size / 4, size/4 + 1, size + 3} {
			if n < 1 {
				continue
			}
			all := make([]float64, size)
			for i := range all {
				all[i] = math.Round(30*rng.NormFloat64()) / float64(rng.IntN(3)) // some are infinite
				if math.IsNaN(all[i]) {
					all[i] = 0
				}
			}
			want := slices.Clone(all)
			slices.Sort(want)
			sortEnds(all, n)
			n := min(n, size)
			require.Equal(t, want[:n], all[:n], "%d of %d", n, size)
			require.Equal(t, want[size-n:], all[size-n:], "%d of %d", n, size)
			slices.Sort(all)
			require.Equal(t, want, all, "none is lost")
		}
	}
}

// What is drawn is what one draw after the other would show: an odd number of draws too, of
// which some show a single value.
func TestDrawnTwoAtATime(t *testing.T) {
	v := []float64{0, 0, 4, 9}
	at := Mean(v)
	for _, draws := range []int{1, 2, 301} {
		s := Settings{Resamples: draws}
		rng, want := s.generator(intervalStream), make([]float64, draws)
		for i := range want {
			draw := make([]float64, len(v))
			for k := range draw {
				draw[k] = v[rng.IntN(len(v))]
			}
			m, se := meanAndError(draw)
			if want[i] = (m - at) / se; math.IsNaN(want[i]) {
				want[i] = 0
			}
		}
		slices.Sort(want)
		got := s.drawn(v, at, 0.025)
		slices.Sort(got)
		assert.Equal(t, want, got, "%d draws", draws)
	}
}
