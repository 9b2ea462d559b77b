package planar

import (
	"math"
	"slices"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
)

// chordError is how far a chord may fall short of the round corner it stands
// for, as a share of the radius: 0.1 %, which is 5 mm on a margin of 5 m.
const chordError = 0.001

// Grow returns the ground no farther than d from the polygons, d ≥ 0: corners
// become round, gaps narrower than 2d close. The polygons must be [Valid]: vertices may be
// repeated, as rounding leaves them.
//
// The border of that ground is part of the rings moved outwards by d. So the
// plane is cut along those and the rings themselves, and each face is kept or
// not by the distance of a place inside it. What of the moved rings lies well
// inside the grown ground is left out before: of a rough outline that is nearly
// all, and each piece of it would be cut by all others within d.
func Grow(mp orb.MultiPolygon, d float64) (orb.MultiPolygon, error) {
	if d == 0 || len(mp) == 0 {
		return mp, nil
	}
	mp = geo.Wind(mp)
	lines, near := RingLines(mp), newNearEdges(mp)
	for _, polygon := range mp {
		for _, ring := range polygon {
			lines = append(lines, near.uncovered(offset(ring, d), d*(1-2*chordError))...)
		}
	}
	a, err := Arrange(lines)
	if err != nil {
		return nil, err
	}
	labels, inside := make([]int, len(a.Faces)), geo.NewIndex(mp)
	if err := a.Check(mp, inside, geo.Area(mp)); err != nil {
		return nil, err
	}
	for i, face := range a.Faces {
		if inside.Contains(face.Point) || near.within(d, face.Point) {
			labels[i] = 1
		}
	}
	return a.Dissolve(labels).Polygons(1), nil
}

// offset moves a closed ring to its right by d, with arcs round the corners that
// open to that side. At the other corners it doubles back inside the grown
// ground, where no border remains of it.
func offset(ring orb.Ring, d float64) orb.LineString {
	var line orb.LineString
	ring = slices.Compact(slices.Clone(ring)) // an edge without length has no side
	n := len(ring) - 1
	for i := range n {
		a, b, c := ring[i], ring[i+1], ring[(i+1)%n+1]
		line = append(line, shifted(a, a, b, d), shifted(b, a, b, d))
		line = append(line, corner(b, heading(a, b), heading(b, c), d)...)
	}
	return append(line, line[0])
}

func heading(a, b orb.Point) float64 { return math.Atan2(b[1]-a[1], b[0]-a[0]) }

// shifted returns p moved by d to the right of the direction from a to b.
func shifted(p, a, b orb.Point, d float64) orb.Point {
	dx, dy := b[0]-a[0], b[1]-a[1]
	l := math.Hypot(dx, dy)
	return orb.Point{p[0] + d*dy/l, p[1] - d*dx/l}
}

// corner gives the inner points of the arc round p from one heading to the next.
func corner(p orb.Point, in, out, d float64) orb.LineString {
	turn := math.Remainder(out-in, 2*math.Pi)
	if turn <= 0 {
		return orb.LineString{p}
	}
	steps := int(math.Ceil(turn / (2 * math.Acos(1-chordError))))
	var arc orb.LineString
	for k := 1; k < steps; k++ {
		angle := in + turn*float64(k)/float64(steps) - math.Pi/2
		arc = append(arc, orb.Point{p[0] + d*math.Cos(angle), p[1] + d*math.Sin(angle)})
	}
	return arc
}
