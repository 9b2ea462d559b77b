//go:build !js && !nosqlite

package season_test

import (
	"fmt"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/followup/season"
	"github.com/geocoris/geocoris/internal/testkit"
)

// The OGC's requirements as GDAL's validator knows them, and GDAL itself.
func TestOutsidersReadTheFile(t *testing.T) {
	path := filepath.Join(t.TempDir(), "s.gpkg")
	s := opened(t, path)
	_, err := s.Add(visit(1))
	require.NoError(t, err)
	_, err = s.AddRecord(season.Record{Date: "2031-08-15", Ground: field("", 0).Boundary})
	require.NoError(t, err)
	require.NoError(t, s.Close())
	testkit.AssertGeoPackage(t, path)
	out := testkit.Program(t, nil, "ogrinfo", "-ro", "-al", path)
	for _, want := range []string{"Layer name: fields", "Layer name: stops", "Layer name: zones", "Layer name: records", "Geometry: Multi Polygon", "value (Real) = 1.5", "zone (String) = clear"} {
		assert.Contains(t, out, want)
	}
	assert.NotContains(t, out, "Warning")
}

// GDAL reads the layers as they are: how many, of which kind, and their areas.
func TestOutsidersReadTheDatabase(t *testing.T) {
	g := inDatabase(t)
	s := opened(t, g.owner())
	_, err := s.Add(in(1, "Ann", "North", "East field"))
	require.NoError(t, err)
	_, err = s.Add(in(9, "Ann", "North"))
	require.NoError(t, err)
	_, err = s.AddRecord(season.Record{Date: "2031-08-15", Ground: field("", 0).Boundary})
	require.NoError(t, err)
	office, _ := g.person(t, "office", "geocoris_office")
	login, _, _ := strings.Cut(strings.TrimPrefix(office, "postgres://"), "@")
	from := g.GDAL(login, g.database)
	for layer, want := range map[string]struct {
		kind  string
		count int
	}{
		"fields": {"Multi Polygon", 2}, "stops": {"Point", 3}, "zones": {"Multi Polygon", 3}, "records": {"Multi Polygon", 1},
		"latest_stops": {"Point", 2}, "latest_zones": {"Multi Polygon", 2}, "latest_fields": {"Multi Polygon", 2},
	} {
		out := testkit.Program(t, nil, "ogrinfo", "-ro", "-so", from, "geocoris."+layer)
		assert.Contains(t, out, "Geometry: "+want.kind, layer)
		assert.Contains(t, out, fmt.Sprintf("Feature Count: %d", want.count), layer)
		assert.Contains(t, out, `ID["EPSG",4326]`, layer)
		assert.NotContains(t, out, "Warning", layer)
	}
	out := testkit.Program(t, nil, "ogrinfo", "-ro", from, "-sql", "SELECT name, treat_ha, stops, visit_id FROM geocoris.latest_fields ORDER BY name")
	assert.Contains(t, out, "name (String) = East field")
	assert.Contains(t, out, "treat_ha (Real) = 5.5")
	assert.Contains(t, out, "stops (Integer64) = 1")
	assert.Contains(t, out, "visit_id (Integer64) = 2")
	// The triangle by hand: half of 0.01° by 0.01°, less the hole's 0.000001 square degrees.
	out = testkit.Program(t, nil, "ogrinfo", "-ro", from, "-sql", "SELECT round((ST_Area(geom) * 1e6)::numeric, 6) AS area FROM geocoris.zones LIMIT 1")
	assert.Contains(t, out, "= 49")
}
