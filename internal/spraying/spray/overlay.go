package spray

import (
	"fmt"
	"slices"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/internal/geometry/planar"
)

// overlay is [planar.Overlay], its errors named for this package.
func overlay(grounds []orb.MultiPolygon, wanted func(in []bool) bool) (orb.MultiPolygon, error) {
	ground, err := planar.Overlay(grounds, wanted)
	if err != nil {
		return nil, fmt.Errorf("spray: %w", err)
	}
	return ground, nil
}

// Together is the ground under any of several grounds.
func Together(grounds []orb.MultiPolygon) (orb.MultiPolygon, error) {
	if len(grounds) == 1 {
		return grounds[0], nil
	}
	return overlay(grounds, func(in []bool) bool { return slices.Contains(in, true) })
}

// Both is the ground that lies in a and in b.
func Both(a, b orb.MultiPolygon) (orb.MultiPolygon, error) {
	return overlay([]orb.MultiPolygon{a, b}, func(in []bool) bool { return in[0] && in[1] })
}

// Less is the ground of a that does not lie in b.
func Less(a, b orb.MultiPolygon) (orb.MultiPolygon, error) {
	if len(b) == 0 {
		return a, nil
	}
	return overlay([]orb.MultiPolygon{a, b}, func(in []bool) bool { return in[0] && !in[1] })
}
