package engine_test

import (
	"testing"

	"github.com/geocoris/geocoris/internal/engine"
)

// FuzzSettings reads settings that are none, or nearly some.
func FuzzSettings(f *testing.F) {
	for _, text := range []string{"treat-at = 50\n", "[verdict]\nseed = 7\n", "columns = {count = \"n\"}\n", "treat-at = \"50\"", "surface = 7", "min-area = 1e309", ""} {
		f.Add([]byte(text))
	}
	f.Fuzz(func(_ *testing.T, text []byte) {
		var o engine.Settings
		if o.Take(engine.Source{Name: "map.toml", Content: text}) == nil {
			_ = o.Validate()
		}
	})
}

// FuzzTamperedFolder hands over zones with a record and a summary that anything may have
// been done to. What is refused says so, and what is not gives files.
func FuzzTamperedFolder(f *testing.F) {
	const zone = `{"type":"FeatureCollection","features":[{"type":"Feature","properties":{"zone":"treat","field":"A","area_ha":1.0,"verdict":"spot spray","date":"2026-07-15"},
"geometry":{"type":"Polygon","coordinates":[[[-101.6,35.9],[-101.599,35.9],[-101.599,35.901],[-101.6,35.901],[-101.6,35.9]]]}}]}`
	const record = `{"program":"geocoris","command":"map","format":1,"inputs":[{"path":"field.geojson","sha256":"00"}],"settings":{"field":"field.geojson"},"outputs":[{"path":"zones.geojson","sha256":"00"}]}`
	f.Add([]byte(zone), []byte(record), []byte(`{"fields":[{"field":"A","verdict":{"verdict":"look again"}}]}`), true)
	f.Add([]byte(zone), []byte(`{"program":"geocoris","command":"map"}`), []byte(`{}`), false)
	f.Add([]byte(`{}`), []byte(`{"program":"geocoris","command":"map","settings":{"verdict":7},"filled_in":["verdict.seed"]}`), []byte(`[]`), false)
	f.Fuzz(func(t *testing.T, zones, run, summary []byte, trust bool) {
		q := engine.HandoffRequest{Settings: engine.HandoffDefaults(), Zones: engine.Source{Name: "out/zones.geojson", Content: zones}}
		if err := q.Settings.Swath.Set("100m"); err != nil {
			t.Fatal(err)
		}
		q.Settings.TrustEdited = trust
		q.Run = &engine.Source{Name: "out/run.json", Content: run}
		q.Map = &engine.MapFolder{Name: "out", Run: *q.Run, Summary: engine.Source{Name: "out/summary.json", Content: summary},
			Load: func(path string) (engine.Source, error) { return engine.Source{Name: path, Content: zones}, nil }}
		made, err := engine.Handoff(q)
		if err == nil && len(made.Files) == 0 {
			t.Fatal("neither files nor an error")
		}
	})
}
