//go:build !js && !nosqlite

package season

import (
	"encoding/binary"
	"math"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
)

// envelopeOf is the envelope in the header of a geometry; known is false where it holds
// none of x and y alone, which other programs may leave out.
func envelopeOf(head []byte) (b orb.Bound, known bool) {
	if len(head) < headerSize+xySize || head[0] != 'G' || head[1] != 'P' || head[3] != flagsXY {
		return b, false
	}
	at := func(i int) float64 { return math.Float64frombits(binary.LittleEndian.Uint64(head[headerSize+8*i:])) }
	b = orb.Bound{Min: orb.Point{at(0), at(2)}, Max: orb.Point{at(1), at(3)}}
	return b, b.Min[0] <= b.Max[0] && b.Min[1] <= b.Max[1]
}

func touchesAny(g orb.Geometry, boxes []orb.Bound) bool {
	for _, box := range boxes {
		if touches(g, box) {
			return true
		}
	}
	return false
}

// touches reports that a geometry and a box have a point in common; borders are of both.
func touches(g orb.Geometry, box orb.Bound) bool {
	switch g := g.(type) {
	case orb.Point:
		return box.Contains(g)
	case orb.Polygon:
		return touches(orb.MultiPolygon{g}, box)
	case orb.MultiPolygon:
		for _, polygon := range g {
			for _, ring := range polygon {
				for i := 1; i < len(ring); i++ {
					if crosses(ring[i-1], ring[i], box) {
						return true
					}
				}
			}
		}
		return geo.Contains(g, box.Min) // no border meets the box: it is in or out as a whole
	}
	return g != nil && g.Bound().Intersects(box)
}

// crosses reports that a piece of line has a point in a box (Liang and Barsky 1984, ACM
// Trans. Graph. 3:1–22).
func crosses(a, b orb.Point, box orb.Bound) bool {
	from, to := 0.0, 1.0
	for axis := range 2 {
		d := b[axis] - a[axis]
		if d == 0 {
			if a[axis] < box.Min[axis] || a[axis] > box.Max[axis] {
				return false
			}
			continue
		}
		t, u := (box.Min[axis]-a[axis])/d, (box.Max[axis]-a[axis])/d
		from, to = max(from, min(t, u)), min(to, max(t, u))
	}
	return from <= to
}

func boundsOf(boxes [][4]float64) (bounds []orb.Bound) {
	for _, b := range boxes {
		bounds = append(bounds, orb.Bound{Min: orb.Point{b[0], b[1]}, Max: orb.Point{b[2], b[3]}})
	}
	return bounds
}
