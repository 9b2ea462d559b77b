package spray

import (
	"math"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/internal/geometry/planar"
)

// A KeepOff is ground that is never sprayed: what stands there and how far the
// boom stays away from it.
type KeepOff struct {
	Name     string
	Geometry orb.Geometry // points, lines, polygons and collections of them
	SetBack  float64      // m, ≥ 0
}

// Ground is what a keep-off closes: its geometry with the set-back.
func (k KeepOff) Ground() (orb.MultiPolygon, error) { return Buffer(k.Geometry, k.SetBack+guard) }

// guard is kept on top of every set-back: files hold seven decimals of a degree,
// 11 mm, so a place may move by that much on its way to the machine.
const guard = 0.02

// chord is by how much of the radius planar.Grow's chords fall short of an arc;
// dividing by 1 − chord puts the chords outside the arc in place of inside.
const chord = 0.001

// Buffer returns the ground no farther than d from a geometry. Round parts are
// drawn outside the true circle, by up to 0.1 % of d: a set-back is never cut
// short.
func Buffer(g orb.Geometry, d float64) (orb.MultiPolygon, error) {
	areas, pieces := parts(g)
	wide := d / (1 - chord)
	var all []orb.MultiPolygon
	// Apart, so that a hole in one opens no ground of another.
	for _, area := range areas {
		ground, err := planar.Ground(orb.MultiPolygon{area})
		if err != nil {
			return nil, err
		}
		grown, err := planar.Grow(ground, wide)
		if err != nil {
			return nil, err
		}
		all = append(all, grown)
	}
	if d > 0 {
		for _, s := range pieces {
			all = append(all, orb.MultiPolygon{{capsule(s[0], s[1], d)}})
		}
	}
	return Together(all)
}

// parts takes a geometry to its polygons, and to the segments of its lines; a
// point is a segment without length.
func parts(g orb.Geometry) (areas orb.MultiPolygon, pieces [][2]orb.Point) {
	switch g := g.(type) {
	case orb.Point:
		pieces = append(pieces, [2]orb.Point{g, g})
	case orb.MultiPoint:
		for _, p := range g {
			pieces = append(pieces, [2]orb.Point{p, p})
		}
	case orb.LineString:
		for i := 1; i < len(g); i++ {
			pieces = append(pieces, [2]orb.Point{g[i-1], g[i]})
		}
	case orb.MultiLineString:
		for _, line := range g {
			_, more := parts(line)
			pieces = append(pieces, more...)
		}
	case orb.Polygon:
		areas = append(areas, g)
	case orb.MultiPolygon:
		areas = append(areas, g...)
	case orb.Collection:
		for _, part := range g {
			a, p := parts(part)
			areas, pieces = append(areas, a...), append(pieces, p...)
		}
	}
	return areas, pieces
}

// capsuleSides is the number of chords of a full circle of a capsule; outside
// the circle they add 1 − cos(π/capsuleSides)² to the area, 0.03 %.
const capsuleSides = 128

// capsule is the ground round a segment, its round ends outside the true circle.
func capsule(a, b orb.Point, d float64) orb.Ring {
	turn := 2 * math.Pi / capsuleSides
	r := d / math.Cos(turn/2)
	start := math.Atan2(b[1]-a[1], b[0]-a[0]) + math.Pi/2
	var ring orb.Ring
	for k := range capsuleSides {
		centre := a
		if k >= capsuleSides/2 {
			centre = b
		}
		// Chords touch the circle at multiples of turn, so that the long sides do too.
		angle := start + turn*(float64(k)+0.5)
		ring = append(ring, orb.Point{centre[0] + float64(r*math.Cos(angle)), centre[1] + float64(r*math.Sin(angle))})
	}
	return append(ring, ring[0])
}
