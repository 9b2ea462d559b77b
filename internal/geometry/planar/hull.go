package planar

import (
	"cmp"
	"slices"

	"github.com/paulmach/orb"
)

// Hull is the convex hull of points, counter-clockwise and closed, without points
// along its sides (Andrew 1979, Inf. Process. Lett. 9:216–219). Of points on one line
// it runs from end to end and back; of none it is empty.
func Hull(points []orb.Point) orb.Ring {
	sorted := uniquePoints(outermost(points))
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

// outermost leaves out points that lie well within the square round the middle of the
// outermost ones in four directions (Akl & Toussaint 1978, Inf. Process. Lett. 7:219–222):
// of many that is most.
func outermost(points []orb.Point) []orb.Point {
	if len(points) < fewForHull {
		return slices.Clone(points)
	}
	var far [4]orb.Point // clockwise, the last to the south-east
	for i, towards := range [4]orb.Point{{-1, -1}, {-1, 1}, {1, 1}, {1, -1}} {
		along := func(p orb.Point) float64 { return float64(towards[0]*p[0]) + float64(towards[1]*p[1]) }
		far[i] = slices.MaxFunc(points, func(a, b orb.Point) int { return cmp.Compare(along(a), along(b)) })
	}
	const hair = 1e-6 // of the width, for rounding
	west, east := max(far[0][0], far[1][0]), min(far[2][0], far[3][0])
	south, north := max(far[0][1], far[3][1]), min(far[1][1], far[2][1])
	spare := hair * ((east - west) + (north - south))
	return slices.DeleteFunc(slices.Clone(points), func(p orb.Point) bool {
		return p[0] > west+spare && p[0] < east-spare && p[1] > south+spare && p[1] < north-spare
	})
}

// fewForHull are points that are as soon sorted.
const fewForHull = 500
