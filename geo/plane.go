package geo

import (
	"iter"
	"math"

	"github.com/paulmach/orb"
)

// Area returns the area in the unit of the coordinates squared, so in m² for
// metres: outer rings less their holes. Rings may be wound either way and need
// not be closed. Empty input, and rings of fewer than three vertices, have area
// 0. The result is never negative for valid polygons; invalid ones can lose
// more to their holes than they have.
//
// Each ring is summed from its own first vertex (the shoelace formula), so a
// field far from the origin loses no digits.
func Area(mp orb.MultiPolygon) float64 {
	var sum float64
	for _, polygon := range mp {
		for i, ring := range polygon {
			if i == 0 {
				sum += math.Abs(signedArea(ring))
			} else {
				sum -= math.Abs(signedArea(ring))
			}
		}
	}
	return sum
}

// signedArea is positive for a counter-clockwise ring.
func signedArea(ring orb.Ring) float64 {
	if len(ring) < 3 {
		return 0
	}
	var twice float64
	o := ring[0]
	for i := 1; i+1 < len(ring); i++ {
		ax, ay := ring[i][0]-o[0], ring[i][1]-o[1]
		bx, by := ring[i+1][0]-o[0], ring[i+1][1]-o[1]
		twice += float64(ax*by) - float64(ay*bx)
	}
	return twice / 2
}

// Contains reports whether a point is inside, in the plane. Points on the
// boundary are inside, and so are points on the edge of a hole: a pond's bank
// is field. Whether a point a rounding error away from a sloping edge counts as
// on it is not promised; vertices and points of level and upright edges are.
//
// Inside means an odd number of rings around the point, over all polygons
// together. A point with a coordinate that is not a number is outside, as is
// every point of a multipolygon without edges.
func Contains(mp orb.MultiPolygon, p orb.Point) bool { return contains(edges(mp), p) }

func contains(edges iter.Seq[edge], p orb.Point) bool {
	inside := false
	for e := range edges {
		switch e.meets(p) {
		case touched:
			return true
		case right:
			inside = !inside
		}
	}
	return inside
}

// meeting is how an edge lies to the ray from a place towards rising x.
type meeting int

const (
	apart   meeting = iota
	touched         // the place lies on the edge
	right           // the ray crosses it
)

func (e edge) meets(p orb.Point) meeting {
	low, high := e.upward()
	if !(low[1] <= p[1] && p[1] <= high[1]) {
		return apart
	}
	west, east := min(low[0], high[0]), max(low[0], high[0])
	switch {
	case p[0] > east: // it is crossed between its ends, where need not be known then
	case p[0] < west && east <= math.MaxFloat64:
		if p[1] < high[1] {
			return right
		}
	case low[1] == high[1]:
		if west <= p[0] && p[0] <= east {
			return touched
		}
	default:
		x := crossing(low, high, p[1])
		if x == p[0] {
			return touched
		}
		// The upper end belongs to the next edge, see InsideSpans.
		if p[0] < x && p[1] < high[1] {
			return right
		}
	}
	return apart
}

// DistanceToEdge returns the distance to the nearest point of the boundary,
// holes included, from inside or outside, in the unit of the coordinates; 0 on
// the boundary. It is +Inf where there is no boundary, and NaN for a point with
// a coordinate that is not a number.
func DistanceToEdge(mp orb.MultiPolygon, p orb.Point) float64 {
	if math.IsNaN(p[0]) || math.IsNaN(p[1]) {
		return math.NaN()
	}
	nearest := math.Inf(1)
	for e := range edges(mp) {
		if d := e.squaredDistance(p); d < nearest {
			nearest = d
		}
	}
	return math.Sqrt(nearest)
}

// Bound returns the smallest upright rectangle around the vertices of every
// ring. Without vertices the rectangle is empty ([orb.Bound.IsEmpty]).
// Coordinates that are not a number are passed over.
func Bound(mp orb.MultiPolygon) orb.Bound {
	bound := emptyBound()
	for _, polygon := range mp {
		for _, ring := range polygon {
			bound = extend(bound, ring)
		}
	}
	return bound
}

func boundOf(points []orb.Point) orb.Bound { return extend(emptyBound(), points) }

func emptyBound() orb.Bound {
	inf := math.Inf(1)
	return orb.Bound{Min: orb.Point{inf, inf}, Max: orb.Point{-inf, -inf}}
}

func extend(b orb.Bound, points []orb.Point) orb.Bound {
	for _, p := range points {
		for i, v := range p {
			if v < b.Min[i] {
				b.Min[i] = v
			}
			if v > b.Max[i] {
				b.Max[i] = v
			}
		}
	}
	return b
}

// edge is one side of a ring.
type edge struct{ from, to orb.Point }

// edges yields every side of every ring, the closing one too whether or not the
// first vertex is repeated at the end: then a side of no length comes with it,
// as for a ring of a single vertex.
func edges(mp orb.MultiPolygon) iter.Seq[edge] {
	return func(yield func(edge) bool) {
		for _, polygon := range mp {
			for _, ring := range polygon {
				for i, p := range ring {
					next := ring[0]
					if i+1 < len(ring) {
						next = ring[i+1]
					}
					if !yield(edge{p, next}) {
						return
					}
				}
			}
		}
	}
}

// upward returns the ends with the lower first, so that an edge shared by two
// rings is computed in the same way for both.
func (e edge) upward() (low, high orb.Point) {
	if e.from[1] > e.to[1] {
		return e.to, e.from
	}
	return e.from, e.to
}

func (e edge) squaredDistance(p orb.Point) float64 {
	dx, dy := e.to[0]-e.from[0], e.to[1]-e.from[1]
	px, py := p[0]-e.from[0], p[1]-e.from[1]
	if length2 := float64(dx*dx) + float64(dy*dy); length2 > 0 {
		t := (float64(px*dx) + float64(py*dy)) / length2
		t = max(0, min(1, t))
		px -= float64(t * dx)
		py -= float64(t * dy)
	}
	return float64(px*px) + float64(py*py)
}
