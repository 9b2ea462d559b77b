package planar

import (
	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
)

// Overlay cuts the plane along the borders of several grounds, which are valid, and
// keeps the faces that are wanted, by which of the grounds they lie in.
func Overlay(grounds []orb.MultiPolygon, wanted func(in []bool) bool) (orb.MultiPolygon, error) {
	a, err := Arrange(RingLines(grounds...))
	if err != nil {
		return nil, err
	}
	under, err := a.under(grounds)
	if err != nil {
		return nil, err
	}
	labels, in := make([]int, len(a.Faces)), make([]bool, len(grounds))
	for i, numbers := range under {
		for _, k := range numbers {
			in[k] = true
		}
		if wanted(in) {
			labels[i] = 1
		}
		clear(in)
	}
	return a.Dissolve(labels).Polygons(1), nil
}

// under are the numbers of the grounds that each face lies in, once they add up to each.
func (a *Arrangement) under(grounds []orb.MultiPolygon) ([][]int, error) {
	rings := make([]orb.Polygon, len(grounds)) // to the even-odd rule parts of a ground are one
	for k, ground := range grounds {
		for _, part := range ground {
			rings[k] = append(rings[k], part...)
		}
	}
	index := geo.NewPolygonIndex(rings)
	numbers, areas := make([][]int, len(a.Faces)), make([]float64, len(grounds))
	for i, face := range a.Faces {
		numbers[i] = index.Containing(face.Point)
		for _, k := range numbers[i] {
			areas[k] += face.Area
		}
	}
	for k, ground := range grounds {
		if err := a.addUp(areas[k], ground, geo.Area(ground)); err != nil {
			return nil, err
		}
	}
	return numbers, nil
}

// Snapped moves valid polygons to the lattice of whole numbers after a change of
// coordinates, see [Coverage.Snap]: they stay valid, whatever falls together there.
func Snapped(mp orb.MultiPolygon, toLattice func(orb.Point) orb.Point) (orb.MultiPolygon, error) {
	a, err := Arrange(RingLines(mp))
	if err != nil {
		return nil, err
	}
	labels, index := make([]int, len(a.Faces)), geo.NewIndex(mp)
	for i, face := range a.Faces {
		if index.Contains(face.Point) {
			labels[i] = 1
		}
	}
	return a.Dissolve(labels).Snap(toLattice).Polygons(1), nil
}
