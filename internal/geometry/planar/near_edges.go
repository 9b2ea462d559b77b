package planar

import (
	"github.com/paulmach/orb"
	flat "github.com/paulmach/orb/planar"
)

// nearEdges finds the edges of polygons near a place.
type nearEdges struct {
	from, to []orb.Point
	grid     edgeGrid
}

func newNearEdges(mp orb.MultiPolygon) *nearEdges {
	n := &nearEdges{}
	for _, line := range RingLines(mp) {
		for i := 1; i < len(line); i++ {
			n.from, n.to = append(n.from, line[i-1]), append(n.to, line[i])
		}
	}
	n.grid = newEdgeGrid(n.from)
	for i := range n.from {
		n.grid.add(i, n.from[i], n.to[i])
	}
	return n
}

// within reports whether all of some places lie no farther than d from one edge.
func (n *nearEdges) within(d float64, places ...orb.Point) bool {
	p := places[0]
	box := orb.Bound{Min: orb.Point{p[0] - d, p[1] - d}, Max: orb.Point{p[0] + d, p[1] + d}}
	return n.grid.any(box, func(edge int) bool {
		for _, p := range places {
			if !(flat.DistanceFromSegment(n.from[edge], n.to[edge], p) <= d) {
				return false
			}
		}
		return true
	})
}

// uncovered are the pieces of a line but those of which both ends, and so all, lie no
// farther than d from one edge.
func (n *nearEdges) uncovered(line orb.LineString, d float64) (pieces []orb.LineString) {
	open := false
	for i := 1; i < len(line); i++ {
		if n.within(d, line[i-1], line[i]) {
			open = false
			continue
		}
		if !open {
			pieces = append(pieces, orb.LineString{line[i-1]})
			open = true
		}
		last := &pieces[len(pieces)-1]
		*last = append(*last, line[i])
	}
	return pieces
}
