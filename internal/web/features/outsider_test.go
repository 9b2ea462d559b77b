package features_test

import (
	"encoding/json"
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/testkit"
)

// GDAL's driver for OGC API – Features reads all collections: how many features, of which
// types, page by page, within a box, and with the ground that they have.
func TestGDALReadsAllCollections(t *testing.T) {
	at := server(t)
	for layer, want := range map[string]struct {
		count    int
		geometry string
		fields   map[string]string
	}{
		"fields":     {2, "MultiPolygon", map[string]string{"name": "String", "customer": "String"}},
		"stops":      {6, "Point", map[string]string{"visit": "Integer", "author": "String", "field": "String", "value": "Real"}},
		"zones":      {6, "MultiPolygon", map[string]string{"zone": "String", "area_ha": "Real"}},
		"verdicts":   {6, "MultiPolygon", map[string]string{"verdict": "String"}},
		"treatments": {1, "MultiPolygon", map[string]string{"date": "Date", "note": "String"}},
	} {
		// ogr2ogr goes through the pages; a page of two makes it ask for the next.
		out := testkit.Program(t, nil, "ogr2ogr", "-q", "-f", "GeoJSON", "/vsistdout/", "OAPIF:"+at.URL, layer, "-oo", "PAGE_SIZE=2")
		var all struct {
			Features []struct {
				Geometry   struct{ Type string }
				Properties map[string]any
			}
		}
		require.NoError(t, json.Unmarshal([]byte(out), &all), layer)
		assert.Len(t, all.Features, want.count, layer)
		ids := map[any]bool{}
		for _, f := range all.Features {
			assert.Equal(t, want.geometry, f.Geometry.Type)
			ids[f.Properties["id"]] = true
		}
		assert.Len(t, ids, want.count, "each once")
		about := testkit.Program(t, nil, "ogrinfo", "-so", "OAPIF:"+at.URL, layer)
		assert.Contains(t, about, fmt.Sprintf("Feature Count: %d", want.count))
		for name, kind := range want.fields {
			assert.Contains(t, about, fmt.Sprintf("\n%s: %s (", name, kind), layer)
		}
	}
	out := testkit.Program(t, nil, "ogrinfo", "-so", "OAPIF:"+at.URL, "stops", "-spat", "-101.5", "34", "-101.005", "36")
	assert.Contains(t, out, "Feature Count: 3", "those west of 101° west")
	// 0.01° by 0.01° at 35° north are some 101 ha; the sphere that SQLite's ST_Area has not,
	// so degrees stand for it: 0.0001.
	out = testkit.Program(t, nil, "ogrinfo", "-q", "OAPIF:"+at.URL, "-dialect", "SQLite", "-sql", "SELECT name, round(ST_Area(geometry), 8) AS area FROM fields")
	assert.Contains(t, out, "area (Real) = 0.0001")
}
