package spray

import (
	"fmt"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/planar"
)

// overlay cuts the plane along the borders of several grounds and keeps the
// faces that are wanted, told by which of the grounds they lie in.
//
// Borders that should coincide may differ by rounding, which upsets the noding.
// So vertices are first put on a lattice, a fine one, and a coarser one where
// the faces then do not add up to each ground's area.
func overlay(grounds []orb.MultiPolygon, wanted func(in []bool) bool) (mp orb.MultiPolygon, err error) {
	for _, lattice := range [...]float64{1 << 20, 1 << 16, 1 << 13} { // steps to a metre
		if mp, err = overlaid(grounds, wanted, lattice); err == nil {
			return mp, nil
		}
	}
	return nil, fmt.Errorf("spray: %w", err)
}

func overlaid(grounds []orb.MultiPolygon, wanted func(in []bool) bool, lattice float64) (orb.MultiPolygon, error) {
	put := make([]orb.MultiPolygon, len(grounds))
	for i, g := range grounds {
		put[i] = onLattice(g, lattice)
	}
	a, err := planar.Arrange(planar.RingLines(put...))
	if err != nil {
		return nil, err
	}
	for _, g := range put {
		if err := a.Check(g, geo.Area(g)); err != nil {
			return nil, err
		}
	}
	labels := make([]int, len(a.Faces))
	in := make([]bool, len(put))
	for i, face := range a.Faces {
		for k, g := range put {
			in[k] = geo.Contains(g, face.Point)
		}
		if wanted(in) {
			labels[i] = 1
		}
	}
	return a.Dissolve(labels).Polygons(1), nil
}

// onLattice rounds vertices and leaves out rings that are no rings any more.
func onLattice(mp orb.MultiPolygon, lattice float64) (out orb.MultiPolygon) {
	round := func(v float64) float64 { return math.Round(v*lattice) / lattice }
	for _, polygon := range mp {
		var rings orb.Polygon
		for i, ring := range polygon {
			var r orb.Ring
			for _, p := range ring {
				if q := (orb.Point{round(p[0]), round(p[1])}); len(r) == 0 || q != r[len(r)-1] {
					r = append(r, q)
				}
			}
			if len(r) >= 4 && geo.Area(orb.MultiPolygon{{r}}) > 0 {
				rings = append(rings, r)
			} else if i == 0 {
				break
			}
		}
		if len(rings) > 0 {
			out = append(out, rings)
		}
	}
	return out
}

// Together is the ground under any of several grounds.
func Together(grounds []orb.MultiPolygon) (orb.MultiPolygon, error) {
	if len(grounds) == 1 {
		return grounds[0], nil
	}
	return overlay(grounds, func(in []bool) bool { return slices.Contains(in, true) })
}

// both is the ground that lies in a and in b.
func both(a, b orb.MultiPolygon) (orb.MultiPolygon, error) {
	return overlay([]orb.MultiPolygon{a, b}, func(in []bool) bool { return in[0] && in[1] })
}

// less is the ground of a that does not lie in b.
func less(a, b orb.MultiPolygon) (orb.MultiPolygon, error) {
	if len(b) == 0 {
		return a, nil
	}
	return overlay([]orb.MultiPolygon{a, b}, func(in []bool) bool { return in[0] && !in[1] })
}
