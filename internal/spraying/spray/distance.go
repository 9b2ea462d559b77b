package spray

import (
	"math"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/geometry/planar"
)

// Distance is the least distance from a geometry to ground: 0 where they meet,
// +Inf where either is empty.
func Distance(g orb.Geometry, ground orb.MultiPolygon) float64 {
	areas, pieces := parts(g)
	nearest := math.Inf(1)
	for _, polygon := range areas {
		for _, ring := range polygon {
			for i := 1; i < len(ring); i++ {
				pieces = append(pieces, [2]orb.Point{ring[i-1], ring[i]})
			}
		}
	}
	for _, s := range pieces {
		if geo.Contains(ground, s[0]) {
			return 0
		}
		nearest = min(nearest, segmentDistance(s, ground))
	}
	for _, polygon := range ground {
		for _, area := range areas {
			if encloses(area, polygon[0][0]) {
				return 0
			}
		}
	}
	return nearest
}

// encloses reports whether a place lies in the ground of an outline as people draw it; in
// one of which no ground can be made by the plain even-odd rule.
func encloses(outline orb.Polygon, p orb.Point) bool {
	if !outline.Bound().Contains(p) {
		return false
	}
	ground, err := planar.Ground(orb.MultiPolygon{outline})
	if err != nil {
		ground = orb.MultiPolygon{outline}
	}
	return geo.Contains(ground, p)
}

// segmentDistance is the least distance from a segment to the border of ground:
// where they do not cross, it is reached at an end of one of the two.
func segmentDistance(s [2]orb.Point, ground orb.MultiPolygon) float64 {
	nearest := math.Inf(1)
	for _, p := range s {
		nearest = min(nearest, geo.DistanceToEdge(ground, p))
	}
	line := orb.MultiPolygon{{{s[0], s[1]}}}
	for _, polygon := range ground {
		for _, ring := range polygon {
			for i, p := range ring {
				nearest = min(nearest, geo.DistanceToEdge(line, p))
				if i > 0 && crosses(s, [2]orb.Point{ring[i-1], p}) {
					return 0
				}
			}
		}
	}
	return nearest
}

// apart is the distance between two places.
func apart(a, b orb.Point) float64 { return math.Hypot(b[0]-a[0], b[1]-a[1]) }

func crosses(a, b [2]orb.Point) bool {
	side := func(s [2]orb.Point, p orb.Point) bool {
		return float64((s[1][0]-s[0][0])*(p[1]-s[0][1])) > float64((s[1][1]-s[0][1])*(p[0]-s[0][0]))
	}
	return side(a, b[0]) != side(a, b[1]) && side(b, a[0]) != side(b, a[1])
}
