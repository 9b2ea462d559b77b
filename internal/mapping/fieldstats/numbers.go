package fieldstats

import (
	"math/bits"
	"math/rand/v2"
	"slices"
	"sync"
)

// numbers are those of a generator, from its first on. Intervals of all fields go by the same
// ones, so that the first of them are made once and kept.
type numbers struct {
	kept []uint64 // what is left of them
	more rand.PCG // as it is after those
}

// mostKept is for 2,000 draws from 65 stops: a megabyte.
const mostKept = 130_000

// made are the first numbers of the seed that was asked for last.
var made struct {
	sync.Mutex
	seed uint64
	numbers
}

// numbers gives those of intervals, of which about so many are asked for.
func (s Settings) numbers(want int) numbers {
	made.Lock()
	defer made.Unlock()
	if seed := s.seed(); made.seed != seed || made.kept == nil {
		made.seed, made.numbers = seed, numbers{more: *rand.NewPCG(seed, intervalStream)}
	}
	want = min(want, mostKept)
	made.kept = slices.Grow(made.kept, max(0, want-len(made.kept)))
	for len(made.kept) < want {
		made.kept = append(made.kept, made.more.Uint64())
	}
	return made.numbers
}

// draw draws values for all of into, as many as are in it.
func (s *numbers) draw(values, into []float64) {
	n := uint64(len(values))
	if n&(n-1) != 0 && len(s.kept) >= len(into) {
		for k, x := range s.kept[:len(into)] {
			high, low := bits.Mul64(x, n)
			if low < n { // once in 2⁶⁴/n numbers
				break
			}
			if into[k] = values[high]; k == len(into)-1 {
				s.kept = s.kept[len(into):]
				return
			}
		}
	}
	for k := range into {
		into[k] = values[s.below(n)]
	}
}

// below is the next number from 0 up to, not including, n, to the bit as [rand.Rand.Uint64N]
// makes it of the same numbers (Lemire 2019, ACM Trans. Model. Comput. Simul. 29(1):3, from
// memory).
func (s *numbers) below(n uint64) uint64 {
	if n&(n-1) == 0 {
		return s.next() & (n - 1)
	}
	high, low := bits.Mul64(s.next(), n)
	for low < n && low < -n%n {
		high, low = bits.Mul64(s.next(), n)
	}
	return high
}

func (s *numbers) next() uint64 {
	if len(s.kept) == 0 {
		return s.more.Uint64()
	}
	first := s.kept[0]
	s.kept = s.kept[1:]
	return first
}
