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

// Polygon is ground within corners; the first comes once.
func Polygon(corners ...[2]float64) orb.MultiPolygon {
	var ring orb.Ring
	for _, c := range corners {
		ring = append(ring, c)
	}
	return orb.MultiPolygon{{append(ring, ring[0])}}
}

// Rectangle is ground between two longitudes and two latitudes.
func Rectangle(west, south, east, north float64) orb.MultiPolygon {
	return Polygon([2]float64{west, south}, [2]float64{east, south}, [2]float64{east, north}, [2]float64{west, north})
}
