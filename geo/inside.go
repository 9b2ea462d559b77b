package geo

import (
	"math"

	"github.com/paulmach/orb"
)

// mostInsideNodes bounds by how many nodes the inside of a field is looked for.
const mostInsideNodes = 20_000

// HalfWidth is the area of ground in metres over its rim, m: half the width of a strip, and
// no more than the radius of the largest disc in it. 0 of none.
func HalfWidth(ground orb.MultiPolygon) float64 {
	rim := 0.0
	for _, polygon := range ground {
		for _, ring := range polygon {
			for i := 1; i < len(ring); i++ {
				rim += math.Hypot(ring[i][0]-ring[i-1][0], ring[i][1]-ring[i-1][1])
			}
		}
	}
	if rim == 0 {
		return 0
	}
	return Area(ground) / rim
}

// HasInside reports whether ground in metres has an inside: ground no less than a strip from
// every edge that is three strips long and wide together, so that several stops stand apart
// in it. It is looked for to a metre.
func HasInside(ground orb.MultiPolygon, strip float64) bool {
	switch half := HalfWidth(ground); {
	case half == 0:
		return false
	case half >= 2*strip:
		return true
	}
	b, cell := Bound(ground), max(1, math.Sqrt(Area(ground)/mostInsideNodes))
	edges, inside := NewEdgeIndex(ground), orb.Bound{Min: orb.Point{math.Inf(1), math.Inf(1)}, Max: orb.Point{math.Inf(-1), math.Inf(-1)}}
	nodes := Lattice{X0: b.Min[0], Y0: b.Min[1], Cell: cell, Cols: int((b.Max[0]-b.Min[0])/cell) + 1, Rows: int((b.Max[1]-b.Min[1])/cell) + 1}
	for col, row := range NodesInside(ground, nodes) {
		if p := nodes.Node(col, row); edges.Distance(p) >= strip {
			inside = inside.Extend(p)
		}
	}
	return inside.Max[0]-inside.Min[0]+inside.Max[1]-inside.Min[1] >= 3*strip
}
