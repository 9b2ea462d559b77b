package assess

import (
	"cmp"
	"math"
	"math/rand/v2"
	"runtime"
	"slices"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
)

// nearByDefinition looks at every pair, from west to east, and stops at as many as are listed.
func nearByDefinition(at []orb.Point, reach float64) [][]int {
	west := make([]int, len(at))
	for i := range at {
		west[i] = i
	}
	slices.SortFunc(west, func(a, b int) int { return cmp.Or(before(at[a], at[b]), a-b) })
	all := make([][]int, len(at))
	for i, p := range at {
		for _, k := range west {
			if apart(at[k], p) <= reach*hairFarther && len(all[i]) < max(leastNear, mostLooked/len(at)) {
				all[i] = append(all[i], k)
			}
		}
	}
	return all
}

// nearestByDefinition looks at every pair.
func nearestByDefinition(at []orb.Point, most float64) (all []float64) {
	for i, p := range at {
		least := most
		for k, q := range at {
			if k != i {
				least = min(least, apart(p, q))
			}
		}
		all = append(all, least)
	}
	slices.Sort(all)
	return all
}

// Who is near is who is by looking at every pair: on whole metres many are as far as reach,
// in rows below and above 0, and on one point.
func TestNeighboursAreThoseOfEveryPair(t *testing.T) {
	rng := rand.New(rand.NewPCG(15, 16))
	for _, size := range []float64{0, 1e-7, 1, 60, 1e6} {
		for _, reach := range []float64{0, 1e-9, 0.2, 1, 5, 13, 1000, math.Inf(1), math.NaN()} {
			at := make([]orb.Point, 250)
			for i := range at {
				at[i] = orb.Point{math.Round(size * (rng.Float64() - 0.5)), math.Round(size * (rng.Float64() - 0.5))}
				if i%5 == 0 {
					at[i] = orb.Point{at[i][0] / 7, at[i][1] / 7}
				}
			}
			assert.Equal(t, nearByDefinition(at, reach), newNeighbours(at).near(reach), "%g m wide, reach %g", size, reach)
			nearest, want := newNeighbours(at).nearest(reach), nearestByDefinition(at, reach)
			assert.True(t, slices.Equal(want, nearest) || math.IsNaN(reach) && math.IsNaN(nearest[0]), "%g m wide, reach %g: %v, want %v", size, reach, nearest, want)
		}
	}
}

// Of many stops each processor looks at a share; those left of them are as if they had been
// alone, also where several stand on one point.
func TestNeighboursOfManyAndOfSome(t *testing.T) {
	rng := rand.New(rand.NewPCG(17, 18))
	at, told := make([]orb.Point, 2*leastShare+100), []bool(nil)
	var some []orb.Point
	for i := range at {
		at[i] = orb.Point{math.Round(400 * rng.Float64()), math.Round(400 * rng.Float64())}
		told = append(told, rng.IntN(3) > 0)
		if told[i] {
			some = append(some, at[i])
		}
	}
	all := newNeighbours(at)
	left := all.only(told)
	assert.Equal(t, newNeighbours(some), left)
	near, nearest := left.near(7), left.nearest(7)
	cores := runtime.GOMAXPROCS(1)
	alone, aloneNearest := left.near(7), left.nearest(7)
	runtime.GOMAXPROCS(cores)
	assert.Equal(t, alone, near)
	assert.Equal(t, aloneNearest, nearest)
	var want []float64
	for i, others := range near {
		least := 7.0
		for _, k := range others {
			if k != i {
				least = min(least, apart(some[i], some[k]))
			}
		}
		want = append(want, least)
	}
	slices.Sort(want)
	assert.Equal(t, want, nearest)
}

// Along a line from south to north all stops are as far east.
func BenchmarkNeighboursAlongALine(b *testing.B) {
	at := make([]orb.Point, 100_000)
	for i := range at {
		at[i] = orb.Point{5, float64(i)}
	}
	near := newNeighbours(at)
	for b.Loop() {
		near.near(20)
	}
}
