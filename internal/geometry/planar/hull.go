package planar

import (
	"slices"

	"github.com/paulmach/orb"
)

// Hull is the convex hull of points, counter-clockwise and closed, without points
// along its sides (Andrew 1979, Inf. Process. Lett. 9:216–219). Of points on one line
// it runs from end to end and back; of none it is empty.
func Hull(points []orb.Point) orb.Ring {
	sorted := unique(slices.Clone(points), comparePoints)
	if len(sorted) < 2 {
		return append(orb.Ring{}, sorted...)
	}
	lower := turningLeft(sorted)
	slices.Reverse(sorted)
	return append(lower, turningLeft(sorted)[1:]...)
}

// turningLeft leaves out the points at which the way along them does not turn left.
func turningLeft(points []orb.Point) (way orb.Ring) {
	for _, p := range points {
		for len(way) >= 2 && side(way[len(way)-2], way[len(way)-1], p) <= 0 {
			way = way[:len(way)-1]
		}
		way = append(way, p)
	}
	return way
}
