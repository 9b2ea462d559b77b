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
	labels := make([]int, len(a.Faces))
	in, index := make([]bool, len(grounds)), make([]*geo.Index, len(grounds))
	for k, g := range grounds {
		index[k] = geo.NewIndex(g)
		if err := a.Check(g, index[k], geo.Area(g)); err != nil {
			return nil, err
		}
	}
	for i, face := range a.Faces {
		for k := range grounds {
			in[k] = index[k].Contains(face.Point)
		}
		if wanted(in) {
			labels[i] = 1
		}
	}
	return a.Dissolve(labels).Polygons(1), nil
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
