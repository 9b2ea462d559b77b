//go:build !small

package engine_test

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/engine"
)

// What is drawn is a file that handoff takes: a place, a line or an area by its corners.
func TestDrawnKeepOffs(t *testing.T) {
	for name, c := range map[string]struct {
		settings, kind, file, wrong string
	}{
		"a place":              {`{"name":"hives","corners":["-101.6,35.9"]}`, "Point", "keep-off-hives.geojson", ""},
		"a place tapped twice": {`{"name":"hives","corners":["-101.6,35.9","-101.6,35.9"]}`, "Point", "keep-off-hives.geojson", ""},
		"two corners":          {`{"name":"creek","corners":["-101.6,35.9","-101.61,35.9"]}`, "LineString", "keep-off-creek.geojson", ""},
		"a line":               {`{"name":"der Bach","line":true,"corners":["-101.6,35.9","-101.61,35.9","-101.61,35.91"]}`, "LineString", "keep-off-der-Bach.geojson", ""},
		"an area":              {`{"name":"yard/Höfe","corners":["-101.6,35.9","-101.61,35.9","-101.61,35.91"]}`, "MultiPolygon", "keep-off-yard-Höfe.geojson", ""},
		"edges that cross":     {`{"name":"yard","corners":["-101.6,35.9","-101.61,35.91","-101.61,35.9","-101.6,35.91"]}`, "MultiPolygon", "keep-off-yard.geojson", ""},
		"a name that is taken": {`{"name":"taken","corners":["-101.6,35.9"]}`, "Point", "keep-off-taken-2.geojson", ""},
		"nothing":              {`{"name":"yard","corners":[]}`, "", "", "nothing is drawn"},
		"no name":              {`{"name":"..","corners":["-101.6,35.9"]}`, "", "", "has no name"},
		"corners on a line":    {`{"name":"yard","corners":["-101.6,35.9","-101.61,35.9","-101.62,35.9"]}`, "", "", "enclose no ground"},
	} {
		var d engine.KeepOffDrawing
		require.NoError(t, json.Unmarshal([]byte(c.settings), &d), name)
		made, err := d.File(func(name string) bool { return name == "keep-off-taken.geojson" })
		if c.wrong != "" {
			assert.ErrorContains(t, err, c.wrong, name)
			continue
		}
		require.NoError(t, err, name)
		assert.Equal(t, c.file, made.Name, name)
		assert.True(t, engine.IsKeptOff(made.Content), name)
		var file struct {
			Features []struct{ Geometry struct{ Type string } }
		}
		require.NoError(t, json.Unmarshal(made.Content, &file), name)
		require.Len(t, file.Features, 1, name)
		assert.Equal(t, c.kind, file.Features[0].Geometry.Type, name)
	}
	for _, other := range []string{`{}`, `[]`, `{"features":[]}`, `{"features":[{"properties":{"keep_off":true}},{"properties":null}]}`, "keep_off"} {
		assert.False(t, engine.IsKeptOff([]byte(other)), other)
	}
	var d engine.KeepOffDrawing
	assert.Error(t, json.Unmarshal([]byte(`{"name":"x","corners":["35.9"]}`), &d))
}
