package spray

import (
	"math"

	"github.com/paulmach/orb"
)

// turned is the plane seen along a heading: x runs along the passes, y to their
// left.
type turned struct{ sin, cos float64 }

// along returns the plane turned to a heading, degrees clockwise from north.
func along(heading float64) turned {
	sin, cos := math.Sincos(heading * math.Pi / 180)
	return turned{sin, cos}
}

func (t turned) into(p orb.Point) orb.Point {
	return orb.Point{
		float64(p[0]*t.sin) + float64(p[1]*t.cos),
		float64(p[1]*t.sin) - float64(p[0]*t.cos),
	}
}

func (t turned) back(p orb.Point) orb.Point {
	return orb.Point{
		float64(p[0]*t.sin) - float64(p[1]*t.cos),
		float64(p[0]*t.cos) + float64(p[1]*t.sin),
	}
}

func mapped(mp orb.MultiPolygon, to func(orb.Point) orb.Point) orb.MultiPolygon {
	out := make(orb.MultiPolygon, len(mp))
	for i, polygon := range mp {
		out[i] = make(orb.Polygon, len(polygon))
		for j, ring := range polygon {
			out[i][j] = make(orb.Ring, len(ring))
			for k, p := range ring {
				out[i][j][k] = to(p)
			}
		}
	}
	return out
}
