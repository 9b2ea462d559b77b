package geo

import (
	"math"

	"github.com/paulmach/orb"
)

// An EdgeIndex answers [DistanceToEdge] for many places and the same polygons: edges that
// follow one another are passed over together. The polygons may not be changed meanwhile.
type EdgeIndex struct {
	edges []edge
	boxes []orb.Bound // round edgesInBox of them each
	hair  float64     // what arithmetic may be off by, in the unit of the coordinates, and more
}

const edgesInBox = 32

// NewEdgeIndex puts boxes round the edges of polygons.
func NewEdgeIndex(mp orb.MultiPolygon) *EdgeIndex {
	x := &EdgeIndex{edges: make([]edge, 0, most(mp))}
	for e := range edges(mp) {
		if len(x.edges)%edgesInBox == 0 {
			x.boxes = append(x.boxes, emptyBound())
		}
		x.edges = append(x.edges, e)
		box := &x.boxes[len(x.boxes)-1]
		*box = extend(*box, orb.Ring{e.from, e.to})
	}
	if all := Bound(mp); len(x.edges) > 0 {
		x.hair = 1e-9 * max(all.Max[0]-all.Min[0], all.Max[1]-all.Min[1])
	}
	return x
}

// Distance is what [DistanceToEdge] is, to the bit where coordinates are finite.
func (x *EdgeIndex) Distance(p orb.Point) float64 {
	if math.IsNaN(p[0]) || math.IsNaN(p[1]) {
		return math.NaN()
	}
	nearest, first, least := math.Inf(1), 0, math.Inf(1)
	for i, box := range x.boxes {
		if far := x.least(box, p); far < least {
			first, least = i, far
		}
	}
	look := func(i int) {
		for _, e := range x.edges[i*edgesInBox : min((i+1)*edgesInBox, len(x.edges))] {
			if d := e.squaredDistance(p); d < nearest {
				nearest = d
			}
		}
	}
	if len(x.boxes) > 0 {
		look(first)
	}
	for i, box := range x.boxes {
		if i != first && x.least(box, p) <= nearest {
			look(i)
		}
	}
	return math.Sqrt(nearest)
}

// least is how far it is to a box, squared, or a little less.
func (x *EdgeIndex) least(box orb.Bound, p orb.Point) float64 {
	gap := func(axis int) float64 {
		return max(0, float64(max(box.Min[axis]-p[axis], p[axis]-box.Max[axis])*(1-1e-9))-x.hair)
	}
	east, north := gap(0), gap(1)
	return float64(east*east) + float64(north*north)
}
