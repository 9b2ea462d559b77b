package spray

import (
	"github.com/paulmach/orb"
	"github.com/paulmach/orb/clip"
)

// Pieces of up to fewPlaces are not cut further, nor are those as small as smallPiece, m.
const (
	fewPlaces  = 32
	smallPiece = 1.0
)

// pieces cut a polygon of many places in two and again, so that a line past one corner of
// it is compared with the edges of a small piece alone. Borders along cuts may be doubled.
func pieces(polygon orb.Polygon) []orb.Polygon {
	box := polygon.Bound()
	axis := 0
	if box.Max[1]-box.Min[1] > box.Max[0]-box.Min[0] {
		axis = 1
	}
	if points(orb.MultiPolygon{polygon}) <= fewPlaces || box.Max[axis]-box.Min[axis] <= smallPiece {
		return []orb.Polygon{polygon}
	}
	var all []orb.Polygon
	low, high := box, box
	low.Max[axis] = (box.Min[axis] + box.Max[axis]) / 2
	high.Min[axis] = low.Max[axis]
	for _, half := range []orb.Bound{low, high} {
		if piece := clip.Polygon(half, polygon.Clone()); len(piece) > 0 {
			all = append(all, pieces(piece)...)
		}
	}
	return all
}
