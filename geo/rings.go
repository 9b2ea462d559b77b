package geo

import "github.com/paulmach/orb"

// Wind returns a copy with every ring closed, outer rings counter-clockwise and
// holes clockwise, as RFC 7946 §3.1.6 asks. A ring keeps its first vertex. A
// ring without area (or with a coordinate that is not a number) has no winding
// and keeps its order; an empty ring stays empty.
//
// Coordinates are taken as they stand in a plane. A ring in degrees whose
// longitudes jump across 180 looks inside out there: wind it in metres.
func Wind(mp orb.MultiPolygon) orb.MultiPolygon {
	wound := mapVertices(mp, func(p orb.Point) orb.Point { return p })
	for _, polygon := range wound {
		for i := range polygon {
			ring := closed(polygon[i])
			if area := signedArea(ring); i == 0 && area < 0 || i > 0 && area > 0 {
				ring.Reverse()
			}
			polygon[i] = ring
		}
	}
	return wound
}

// closed repeats the first vertex at the end where that is missing. It may
// append to its argument.
func closed(ring orb.Ring) orb.Ring {
	if len(ring) == 0 || ring[0] == ring[len(ring)-1] && len(ring) > 1 {
		return ring
	}
	return append(ring, ring[0])
}

// mapVertices copies rings with every vertex replaced.
func mapVertices(mp orb.MultiPolygon, to func(orb.Point) orb.Point) orb.MultiPolygon {
	out := make(orb.MultiPolygon, len(mp))
	for i, polygon := range mp {
		out[i] = make(orb.Polygon, len(polygon))
		for j, ring := range polygon {
			// One place more than is needed, so that closing does not copy.
			moved := make(orb.Ring, len(ring), len(ring)+1)
			for k, p := range ring {
				moved[k] = to(p)
			}
			out[i][j] = moved
		}
	}
	return out
}
