//go:build !js && !nosqlite

package season_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/followup/season"
	"github.com/geocoris/geocoris/internal/testkit"
)

// GDAL finds in every layer of polygons of a database the areas that are there. Each shape is
// the triangle whose area was worked out by hand: half of 0.01° by 0.01°, less the hole's
// 0.000001 square degrees.
func TestOutsidersFindTheAreasInADatabase(t *testing.T) {
	g := inDatabase(t)
	s := opened(t, g.owner())
	for n, names := range [][]string{{"North", "East field"}, {"North"}} {
		v := in(n+1, "Ann", names...)
		for _, f := range v.Fields {
			v.Verdicts = append(v.Verdicts, geo.Feature{Geometry: f.Boundary, Properties: geo.Properties{{Name: "field", Value: f.Name}, {Name: "verdict", Value: "spray"}}})
		}
		_, err := s.Add(v)
		require.NoError(t, err)
	}
	_, err := s.AddRecord(season.Record{Date: "2031-08-15", Ground: field("", 0).Boundary})
	require.NoError(t, err)
	for layer, shapes := range map[string]int{"fields": 2, "zones": 3, "verdicts": 3, "records": 1, "latest_fields": 2, "latest_zones": 2, "latest_verdicts": 2} {
		out := testkit.Program(t, nil, "ogrinfo", "-ro", g.GDAL("postgres", g.database), "-sql", "SELECT round((sum(ST_Area(geom)) * 1e6)::numeric, 6)::float8 AS area FROM geocoris."+layer)
		assert.Contains(t, out, fmt.Sprintf("area (Real) = %d\n", 49*shapes), layer)
	}
}
