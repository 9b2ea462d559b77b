package spray

import (
	"math"

	"github.com/paulmach/orb"
)

// banded is ground whose rings are found by their heights. A line or a strip along the
// passes meets few of a thousand patches, and rings that it does not meet have no say in
// what it crosses.
type banded struct {
	low, height float64 // of the first band, and of each
	rings       []orb.Ring
	first       []int   // band of each ring's lowest place
	bands       [][]int // the rings that are in each
}

func newBanded(ground orb.MultiPolygon) *banded {
	b := &banded{}
	low, high := math.Inf(1), math.Inf(-1)
	for _, polygon := range ground {
		for _, ring := range polygon {
			b.rings = append(b.rings, ring)
			bound := ring.Bound()
			low, high = min(low, bound.Min[1]), max(high, bound.Max[1])
		}
	}
	b.low, b.height = low, (high-low)/float64(len(b.rings))
	b.first, b.bands = make([]int, len(b.rings)), make([][]int, len(b.rings))
	for i, ring := range b.rings {
		bound := ring.Bound()
		b.first[i] = b.band(bound.Min[1])
		for k := b.first[i]; k <= b.band(bound.Max[1]); k++ {
			b.bands[k] = append(b.bands[k], i)
		}
	}
	return b
}

// band never falls as y grows, so that rounding hides no ring.
func (b *banded) band(y float64) int {
	k := (y - b.low) / b.height
	if !(k > 0) {
		return 0
	}
	return int(min(k, float64(len(b.bands)-1)))
}

// between is ground with all rings that reach into low … high, both included, and
// perhaps more; what is an outline and what a hole is not told.
func (b *banded) between(low, high float64) orb.MultiPolygon {
	if len(b.rings) == 0 {
		return nil
	}
	var rings orb.Polygon
	from := b.band(low)
	for k := from; k <= b.band(high); k++ {
		for _, i := range b.bands[k] {
			if b.first[i] == k || k == from {
				rings = append(rings, b.rings[i])
			}
		}
	}
	return orb.MultiPolygon{rings}
}
