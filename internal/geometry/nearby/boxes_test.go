package nearby_test

import (
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/internal/geometry/nearby"
)

// The boxes along a segment are among others all that some of its places lie in: small
// ones, one over all, some without width, and segments that lead along borders and beyond.
func TestBoxesAlong(t *testing.T) {
	rng := rand.New(rand.NewPCG(21, 22))
	place := func() [2]float64 { return [2]float64{float64(rng.IntN(60) - 20), float64(rng.IntN(60) - 20)} }
	box := func(size int) (b nearby.Box) {
		b.Min = place()
		for axis := range 2 {
			b.Max[axis] = b.Min[axis] + float64(rng.IntN(size))
		}
		return b
	}
	touched, looked, asked := 0, 0, 0
	for _, n := range []int{0, 1, 2, 30, 200} {
		var all []nearby.Box
		for range n {
			all = append(all, box(1+rng.IntN(5)))
		}
		if n > 2 {
			all = append(all, box(60))
		}
		index := nearby.OfBoxes(all)
		for range 100 {
			from, to := place(), place()
			if rng.IntN(4) == 0 {
				to[rng.IntN(2)] = from[0] // level, upright or neither
			}
			found := slices.Sorted(index.Along(from, to))
			found = slices.Compact(found)
			for i, b := range all {
				if meets(b, from, to) {
					assert.Contains(t, found, i, "%v of %d from %v to %v", b, n, from, to)
					touched++
				}
			}
			looked, asked = looked+len(found), asked+n
		}
	}
	assert.Greater(t, touched, 200)
	assert.Less(t, looked, asked/2)
}

// A box touches those that it has a place in common with, be it a corner, whether they came
// at once or one by one, and beyond the cells of the first too.
func TestBoxesTouch(t *testing.T) {
	rng := rand.New(rand.NewPCG(23, 24))
	box := func(over, size int) (b nearby.Box) {
		for axis := range 2 {
			b.Min[axis] = float64(rng.IntN(over) - over/2)
			b.Max[axis] = b.Min[axis] + float64(rng.IntN(size))
		}
		return b
	}
	touched, asked := 0, 0
	for _, first := range []int{0, 1, 40} {
		var all []nearby.Box
		for range first {
			all = append(all, box(60, 4))
		}
		index := nearby.OfBoxes(all)
		for range 200 {
			b := box(120, 6)
			var want []int
			for i, o := range all {
				if b.Min[0] <= o.Max[0] && b.Max[0] >= o.Min[0] && b.Min[1] <= o.Max[1] && b.Max[1] >= o.Min[1] {
					want = append(want, i)
				}
			}
			assert.Equal(t, want, slices.Compact(slices.Sorted(index.Touching(b))), "%v among %v", b, all)
			assert.Equal(t, len(want) > 0, index.Touch(b), "%v among %v", b, all)
			if asked++; len(want) > 0 {
				touched++
			}
			if rng.IntN(2) == 0 {
				index.Add(b)
				all = append(all, b)
			}
		}
	}
	assert.Greater(t, touched, asked/10)
	assert.Less(t, touched, asked*9/10)
}

// meets reports whether one of many places of a segment lies in a box.
func meets(b nearby.Box, from, to [2]float64) bool {
	for k := range 241 {
		part := float64(k) / 240
		x, y := from[0]+part*(to[0]-from[0]), from[1]+part*(to[1]-from[1])
		if b.Min[0] <= x && x <= b.Max[0] && b.Min[1] <= y && y <= b.Max[1] {
			return true
		}
	}
	return false
}
