package geo

import (
	"iter"
	"math"
	"slices"

	"github.com/paulmach/orb"
)

// An Index answers [Contains] for many places in the same polygons: each is held
// against the edges at its height only. The polygons may not be changed meanwhile.
type Index struct{ steps steps }

// NewIndex sorts the edges of polygons by height.
func NewIndex(mp orb.MultiPolygon) *Index {
	return &Index{newSteps(func(yield func(sided) bool) {
		for e := range edges(mp) {
			if !yield(sided{edge: e}) {
				return
			}
		}
	}, most(mp), Bound(mp))}
}

// most is how many edges polygons have at the most.
func most(polygons []orb.Polygon) (n int) {
	for _, polygon := range polygons {
		for _, ring := range polygon {
			n += len(ring)
		}
	}
	return n
}

// Contains is what [Contains] is, to the bit.
func (x *Index) Contains(p orb.Point) bool {
	inside := false
	for _, i := range x.steps.at(p) {
		switch x.steps.edges[i].meets(p) {
		case touched:
			return true
		case right:
			inside = !inside
		}
	}
	return inside
}

// Odd reports whether an odd number of rings go round a place, as [Contains] does, for who
// knows that it lies on no border: an edge that runs through it is there twice, there and
// back, and bounds nothing.
func (x *Index) Odd(p orb.Point) bool {
	odd := false
	for _, i := range x.steps.at(p) {
		odd = odd != (x.steps.edges[i].meets(p) == right)
	}
	return odd
}

// A PolygonIndex tells for many places which of many polygons they lie in, at the
// price of the edges at their height: for faces as even as those of a net that is the
// root of their number. The polygons may not be changed meanwhile.
type PolygonIndex struct {
	steps  steps // in which the edges of a polygon follow one another
	bounds []orb.Bound
}

// NewPolygonIndex sorts the edges of polygons by height.
func NewPolygonIndex(polygons []orb.Polygon) *PolygonIndex {
	x := &PolygonIndex{bounds: make([]orb.Bound, len(polygons))}
	for i := range polygons {
		x.bounds[i] = Bound(polygons[i : i+1])
	}
	x.steps = newSteps(func(yield func(sided) bool) {
		for i, polygon := range polygons {
			for e := range edges(orb.MultiPolygon{polygon}) {
				if !yield(sided{e, i}) {
					return
				}
			}
		}
	}, most(polygons), Bound(polygons))
	return x
}

// Containing returns the numbers of the polygons that [Contains] finds a place in, each
// asked by itself, to the bit where coordinates are finite, in rising order.
func (x *PolygonIndex) Containing(p orb.Point) (numbers []int) {
	all, edges := x.steps.at(p), x.steps.edges
	for i := 0; i < len(all); {
		number := edges[all[i]].polygon
		bound := &x.bounds[number]
		near := bound.Min[0] <= p[0] && p[0] <= bound.Max[0] // no edge leaves it
		on, odd := false, false
		for ; i < len(all) && edges[all[i]].polygon == number; i++ {
			if near && !on {
				m := edges[all[i]].meets(p)
				on, odd = m == touched, odd != (m == right)
			}
		}
		if on || odd {
			numbers = append(numbers, number)
		}
	}
	return numbers
}

// sided is an edge with the number of its polygon.
type sided struct {
	edge
	polygon int
}

// steps are edges sorted into steps of height.
type steps struct {
	low, height float64 // of the first step
	edges       []sided // all of them, in their order
	first       []int32 // of each step in entered; one more at the end
	entered     []int32 // edges that reach into a step, by their places in edges, in their order
}

// newSteps sorts edges, as many as told or fewer.
func newSteps(all iter.Seq[sided], most int, bound orb.Bound) steps {
	x := steps{low: bound.Min[1], edges: make([]sided, 0, most)}
	var heights float64
	for e := range all {
		if low, high := e.upward(); low[1] <= high[1] { // not where a coordinate is not a number
			x.edges, heights = append(x.edges, e), heights+(high[1]-low[1])
		}
	}
	n := float64(len(x.edges))
	if n == 0 {
		return x
	}
	// In steps so high that an edge is entered in five on average, at the most.
	count := max(1, math.Floor(min(n/4, 4*n*(bound.Max[1]-bound.Min[1])/heights)))
	if !(count >= 1) { // all on one height
		count = 1
	}
	x.height, x.first = (bound.Max[1]-bound.Min[1])/count, make([]int32, int(count)+1)
	x.enter()
	return x
}

// enter counts the edges of each step before it enters them: lists that grew edge by
// edge would take some ten times the room.
func (x *steps) enter() {
	spans := make([][2]int32, len(x.edges))
	for i := range x.edges {
		from, to := x.span(i)
		spans[i] = [2]int32{int32(from), int32(to)}
		for s := from; s <= to; s++ {
			x.first[s+1]++
		}
	}
	for s := 1; s < len(x.first); s++ {
		x.first[s] += x.first[s-1]
	}
	x.entered = make([]int32, x.first[len(x.first)-1])
	next := slices.Clone(x.first)
	for i, span := range spans {
		for s := span[0]; s <= span[1]; s++ {
			x.entered[next[s]] = int32(i)
			next[s]++
		}
	}
}

// span is the steps that an edge reaches into.
func (x *steps) span(edge int) (from, to int) {
	low, high := x.edges[edge].upward()
	return x.step(low[1]), x.step(high[1])
}

func (x *steps) step(y float64) int {
	if !(x.height > 0) {
		return 0
	}
	return min(max(int(math.Floor((y-x.low)/x.height)), 0), len(x.first)-2)
}

// at are the edges at the height of a place, and more, by their places in edges; none
// where a coordinate of it is not a number.
func (x *steps) at(p orb.Point) []int32 {
	if len(x.edges) == 0 || math.IsNaN(p[0]) || math.IsNaN(p[1]) {
		return nil
	}
	s := x.step(p[1])
	return x.entered[x.first[s]:x.first[s+1]]
}
