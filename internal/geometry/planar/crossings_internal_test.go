package planar

import (
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Every two segments are compared with each other here.
func TestEachCrossingIsFoundOnce(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 8))
	for _, n := range []int{0, 1, 2, 30, 300} {
		for _, size := range []int{20, 1_000_000} { // with many ties, and without
			segments := randomSegments(rng, n, size)
			var want []orb.Point
			for i, s := range segments {
				for _, u := range segments[:i] {
					if s.crosses(u) {
						want = append(want, s.pixelOfCrossing(u))
					}
				}
			}
			got := crossings(segments, 0)
			require.ElementsMatch(t, want, got)
			if len(want) > 3 {
				assert.Len(t, crossings(segments, 3), 3)
			}
		}
	}
}

func randomSegments(rng *rand.Rand, n, size int) (segments []segment) {
	place := func() orb.Point { return orb.Point{float64(rng.IntN(size)), float64(rng.IntN(size))} }
	for range n {
		from := place()
		to := orb.Point{from[0] + float64(rng.IntN(1+size/10)), from[1] + float64(rng.IntN(1+size/10))}
		if rng.IntN(3) == 0 {
			to = place()
		}
		if from != to {
			segments = append(segments, newSegment(from, to))
		}
	}
	return unique(segments)
}

// 20,000 long teeth, level and upright: compared with all others, each tooth would
// cost some billions of comparisons.
func TestCombsAreSweptInTheirOwnDirection(t *testing.T) {
	for _, upright := range []bool{false, true} {
		var line orb.LineString
		for i := range 20_000 {
			a, b := orb.Point{1, float64(2 * i)}, orb.Point{1e5, float64(2*i + 1)}
			if upright {
				a, b = orb.Point{a[1], a[0]}, orb.Point{b[1], b[0]}
			}
			line = append(line, a, b)
		}
		segments := unique(segmentsOn([]orb.LineString{line}, 1))
		entered, most := 0, 0
		for _, s := range newStrips(segments) {
			entered, most = entered+len(s.in), max(most, s.overlapping())
		}
		assert.LessOrEqual(t, entered, 5*len(segments))
		assert.Less(t, most, 10, "lines at one height of a strip")
		assert.Empty(t, crossings(segments, 0))
	}
}

// overlapping is how many segments share a height of the strip at the most, of some.
func (s strip) overlapping() (most int) {
	for i := 0; i < len(s.in); i += 500 {
		n := 0
		for _, l := range s.in {
			if l.low <= s.in[i].low && s.in[i].low <= l.high {
				n++
			}
		}
		most = max(most, n)
	}
	return most
}
