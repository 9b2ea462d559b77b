package spray

import (
	"math"
	"slices"

	"github.com/paulmach/orb"
	flat "github.com/paulmach/orb/planar"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/geometry/planar"
)

// Distance is the least distance from a geometry to ground: 0 where they meet,
// +Inf where either is empty.
func Distance(g orb.Geometry, ground orb.MultiPolygon) float64 {
	return newNearGround(ground).distance(g)
}

// nearGround is ground of which the distance to many things is asked.
type nearGround struct {
	ground orb.MultiPolygon
	inside *geo.Index
	sides  []bunch
}

func newNearGround(ground orb.MultiPolygon) nearGround {
	return nearGround{ground, geo.NewIndex(ground), bunched(sides(ground))}
}

func (n nearGround) distance(g orb.Geometry) float64 {
	areas, pieces := parts(g)
	pieces = append(pieces, sides(areas)...)
	for _, s := range pieces {
		if n.inside.Contains(s[0]) {
			return 0
		}
	}
	for _, polygon := range n.ground {
		for _, area := range areas {
			if encloses(area, polygon[0][0]) {
				return 0
			}
		}
	}
	return leastBetween(bunched(pieces), n.sides)
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

// sides are those of all rings.
func sides(ground orb.MultiPolygon) (all [][2]orb.Point) {
	for _, polygon := range ground {
		for _, ring := range polygon {
			for i := 1; i < len(ring); i++ {
				all = append(all, [2]orb.Point{ring[i-1], ring[i]})
			}
		}
	}
	return all
}

// A bunch is segments that follow one another, with the box round them.
type bunch struct {
	segments [][2]orb.Point
	box      orb.Bound
}

// bunched are segments by some dozens, in their order.
func bunched(segments [][2]orb.Point) (all []bunch) {
	for some := range slices.Chunk(segments, 48) {
		b := bunch{some, orb.MultiPoint{some[0][0]}.Bound()}
		for _, s := range some {
			b.box = b.box.Extend(s[0]).Extend(s[1])
		}
		all = append(all, b)
	}
	return all
}

// leastBetween is the least distance between segments of two kinds. Bunches that lie
// farther apart than that are passed over.
func leastBetween(a, b []bunch) float64 {
	nearest := math.Inf(1)
	for _, x := range a {
		for _, y := range b {
			if between(x.box, y.box) > nearest {
				continue
			}
			for _, s := range x.segments {
				if between(orb.LineString(s[:]).Bound(), y.box) > nearest {
					continue
				}
				for _, e := range y.segments {
					nearest = min(nearest, segmentsApart(s, e))
				}
			}
		}
	}
	return nearest
}

// between is how far two boxes lie apart, or a hair less.
func between(a, b orb.Bound) float64 {
	gap := func(axis int) float64 { return max(0, a.Min[axis]-b.Max[axis], b.Min[axis]-a.Max[axis]) }
	return math.Hypot(gap(0), gap(1)) - hair
}

// segmentsApart is the least distance between two segments: where they do not cross, it is
// reached at an end of one of the two.
func segmentsApart(s, e [2]orb.Point) float64 {
	if crosses(s, e) {
		return 0
	}
	one := flat.DistanceFromSegmentSquared
	return math.Sqrt(min(one(s[0], s[1], e[0]), one(s[0], s[1], e[1]), one(e[0], e[1], s[0]), one(e[0], e[1], s[1])))
}

// apart is the distance between two places.
func apart(a, b orb.Point) float64 { return math.Hypot(b[0]-a[0], b[1]-a[1]) }

func crosses(a, b [2]orb.Point) bool {
	side := func(s [2]orb.Point, p orb.Point) bool {
		return float64((s[1][0]-s[0][0])*(p[1]-s[0][1])) > float64((s[1][1]-s[0][1])*(p[0]-s[0][0]))
	}
	return side(a, b[0]) != side(a, b[1]) && side(b, a[0]) != side(b, a[1])
}
