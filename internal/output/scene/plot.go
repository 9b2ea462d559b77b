package scene

import (
	"math"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
)

// A Plot takes the metres of a field to the paper.
type Plot struct {
	Scale  float64   // millimetres of paper per metre of ground
	Origin Point     // where the frame's 0, 0 stands
	room   orb.Bound // on paper, where counts may stand beside their stops; empty is anywhere
}

// plotInto fits ground into a box, in its middle.
func plotInto(ground orb.Bound, upperLeft Point, width, height float64) Plot {
	w, h := ground.Max[0]-ground.Min[0], ground.Max[1]-ground.Min[1]
	scale := min(width/w, height/h)
	if !(scale > 0) || math.IsInf(scale, 0) {
		scale = 1
	}
	return Plot{Scale: scale, Origin: Point{
		X: upperLeft.X + (width-float64(w*scale))/2 - float64(ground.Min[0]*scale),
		Y: upperLeft.Y + (height-float64(h*scale))/2 + float64(ground.Max[1]*scale),
	}}
}

// Point is where a place stands, given in metres.
func (p Plot) Point(xy orb.Point) Point {
	return Point{p.Origin.X + float64(xy[0]*p.Scale), p.Origin.Y - float64(xy[1]*p.Scale)}
}

// rings are those of the ground on paper, not closed.
func (p Plot) rings(mp orb.MultiPolygon) (out [][]Point) {
	for _, polygon := range geo.Wind(mp) {
		for _, ring := range polygon {
			n := len(ring)
			if n > 1 && ring[0] == ring[n-1] {
				n--
			}
			points := make([]Point, n)
			for i := range points {
				points[i] = p.Point(ring[i])
			}
			out = append(out, points)
		}
	}
	return out
}
