package geofile_test

import (
	"bytes"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/geo/geofile"
)

// In a Shapefile nothing but its direction tells a hole.
func TestAHoleOverTheEdgeOfAShapeStaysAHole(t *testing.T) {
	rect := func(x0, y0, x1, y1 float64) orb.Ring { // in hundredths of a degree
		return orb.Ring{{x0 / 100, y0 / 100}, {x1 / 100, y0 / 100}, {x1 / 100, y1 / 100}, {x0 / 100, y1 / 100}, {x0 / 100, y0 / 100}}
	}
	field := rect(0, 0, 10, 10)
	for name, c := range map[string]struct {
		hole  orb.Ring
		rings int // of the first part
		parts int
	}{
		"inside":              {rect(2, 2, 4, 4), 2, 1},
		"over the edge":       {rect(8, 4, 12, 6), 2, 1},
		"across the field":    {rect(-2, 4, 12, 6), 2, 1},
		"outside":             {rect(12, 4, 14, 6), 1, 2},
		"along the edge":      {rect(10, 4, 12, 6), 1, 2},
		"a part wound wrong":  {rect(9, 0, 19, 10), 1, 2},
		"around, wound wrong": {rect(-2, -2, 12, 12), 1, 2},
	} {
		t.Run(name, func(t *testing.T) {
			var b bytes.Buffer
			require.NoError(t, geofile.WriteShapefile(&b, geofile.Layer{Name: "field", Features: []geo.Feature{{Geometry: orb.Polygon{field, c.hole}, Properties: geo.Properties{{Name: "name", Value: "A"}}}}}))
			read, err := geofile.Decode("field.zip", bytes.NewReader(b.Bytes()), geofile.Limits{})
			require.NoError(t, err)
			got, ok := read.Features[0].Geometry.(orb.MultiPolygon)
			if p, one := read.Features[0].Geometry.(orb.Polygon); one {
				got, ok = orb.MultiPolygon{p}, true
			}
			require.True(t, ok)
			require.Len(t, got, c.parts)
			assert.Len(t, got[0], c.rings)
		})
	}
}
