package geo

import (
	"math"
	"slices"

	"github.com/paulmach/orb"
)

// An Index answers [Contains] for many places in the same polygons: each is held
// against the edges at its height only. The polygons may not be changed meanwhile.
type Index struct {
	low, height float64 // of the first step
	steps       [][]edge
}

// NewIndex sorts the edges of polygons by height.
func NewIndex(mp orb.MultiPolygon) *Index {
	bound := Bound(mp)
	x := &Index{low: bound.Min[1]}
	var n, heights float64
	for e := range edges(mp) {
		if low, high := e.upward(); low[1] <= high[1] { // not where a coordinate is not a number
			n, heights = n+1, heights+(high[1]-low[1])
		}
	}
	if n == 0 {
		return x
	}
	// In steps so high that an edge is entered in five on average, at the most.
	count := max(1, math.Floor(min(n/4, 4*n*(bound.Max[1]-bound.Min[1])/heights)))
	if !(count >= 1) { // all on one height
		count = 1
	}
	x.height, x.steps = (bound.Max[1]-bound.Min[1])/count, make([][]edge, int(count))
	for e := range edges(mp) {
		low, high := e.upward()
		if !(low[1] <= high[1]) {
			continue
		}
		for s := x.step(low[1]); s <= x.step(high[1]); s++ {
			x.steps[s] = append(x.steps[s], e)
		}
	}
	return x
}

func (x *Index) step(y float64) int {
	if !(x.height > 0) {
		return 0
	}
	return min(max(int(math.Floor((y-x.low)/x.height)), 0), len(x.steps)-1)
}

// Contains is what [Contains] is, to the bit.
func (x *Index) Contains(p orb.Point) bool {
	if len(x.steps) == 0 || math.IsNaN(p[0]) || math.IsNaN(p[1]) {
		return false
	}
	return contains(slices.Values(x.steps[x.step(p[1])]), p)
}
