package given

import (
	"github.com/paulmach/orb"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
)

// Area is that of a polygon or several, m², for tests of what knows no geometries.
func Area(t require.TestingT, f geo.Feature) float64 {
	mp, many := f.Geometry.(orb.MultiPolygon)
	if p, one := f.Geometry.(orb.Polygon); one {
		mp, many = orb.MultiPolygon{p}, true
	}
	require.True(t, many, "%T", f.Geometry)
	frame, err := geo.FrameOf(mp)
	require.NoError(t, err)
	return geo.Area(frame.ForwardPolygons(mp))
}

// Line are the positions of a line, degrees, longitude first; nil where it is none.
func Line(f geo.Feature) (all [][]float64) {
	line, _ := f.Geometry.(orb.LineString)
	for _, p := range line {
		all = append(all, p[:])
	}
	return all
}
