package spray

import (
	"fmt"
	"slices"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/geometry/planar"
)

// overlay cuts the plane along the borders of several grounds and keeps the
// faces that are wanted, told by which of the grounds they lie in.
func overlay(grounds []orb.MultiPolygon, wanted func(in []bool) bool) (orb.MultiPolygon, error) {
	a, err := planar.Arrange(planar.RingLines(grounds...))
	if err != nil {
		return nil, fmt.Errorf("spray: %w", err)
	}
	for _, g := range grounds {
		if err := a.Check(g, geo.Area(g)); err != nil {
			return nil, fmt.Errorf("spray: %w", err)
		}
	}
	labels := make([]int, len(a.Faces))
	in := make([]bool, len(grounds))
	for i, face := range a.Faces {
		for k, g := range grounds {
			in[k] = geo.Contains(g, face.Point)
		}
		if wanted(in) {
			labels[i] = 1
		}
	}
	return a.Dissolve(labels).Polygons(1), nil
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

// Less is the ground of a that does not lie in b.
func Less(a, b orb.MultiPolygon) (orb.MultiPolygon, error) {
	if len(b) == 0 {
		return a, nil
	}
	return overlay([]orb.MultiPolygon{a, b}, func(in []bool) bool { return in[0] && !in[1] })
}
