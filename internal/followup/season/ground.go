//go:build !js && !nosqlite

package season

import (
	"cmp"
	"slices"

	"github.com/paulmach/orb"
)

// drawnOnce is ground as whoever draws it in whatever order would have it: rings begin at
// their westernmost point, or the southernmost of those, and go on to the lesser of its
// neighbours; holes and polygons are in the order of their points. It is for comparing alone.
func drawnOnce(ground orb.MultiPolygon) orb.MultiPolygon {
	var all orb.MultiPolygon
	for _, polygon := range ground {
		var rings orb.Polygon
		for _, ring := range polygon {
			rings = append(rings, begunOnce(ring))
		}
		if len(rings) > 0 { // the outer one is first
			slices.SortFunc(rings[1:], comparePoints)
		}
		all = append(all, rings)
	}
	slices.SortFunc(all, func(a, b orb.Polygon) int { return slices.CompareFunc(a, b, comparePoints) })
	return all
}

// begunOnce is a ring as [drawnOnce] has it, without points that repeat the one before; of
// a ring that comes to its first point more than once the least of its ways round.
func begunOnce(ring orb.Ring) (least orb.Ring) {
	points := slices.Compact(slices.Clone(ring))
	if len(points) > 1 && points[0] == points[len(points)-1] {
		points = points[:len(points)-1]
	}
	if len(points) == 0 {
		return nil
	}
	first := slices.MinFunc(points, comparePlaces)
	for range 2 {
		for i, p := range points {
			if p != first {
				continue
			}
			way := slices.Concat(points[i:], points[:i], orb.Ring{first})
			if least == nil || comparePoints(way, least) < 0 {
				least = way
			}
		}
		slices.Reverse(points)
	}
	return least
}

func comparePoints(a, b orb.Ring) int { return slices.CompareFunc(a, b, comparePlaces) }

func comparePlaces(a, b orb.Point) int {
	return cmp.Or(cmp.Compare(a[0], b[0]), cmp.Compare(a[1], b[1]))
}
