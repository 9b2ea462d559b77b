package engine_test

import (
	"archive/zip"
	"bytes"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/engine"
	"github.com/geocoris/geocoris/internal/spraying/spray"
)

// How the rows run is kept with the field: from the boundary over the zones to the passes.
// What is typed in goes before it, and plan writes what handoff reads.
func TestRowsAreKeptWithTheField(t *testing.T) {
	m := morning(t, "week3")
	m.Boundary.Content = bytes.Replace(m.Boundary.Content, []byte(`{"name":"Pivot"}`), []byte(`{"name":"Pivot","Rows":"33°","grower":"Hill Farm"}`), 1)
	made, err := engine.Map(t.Context(), m)
	require.NoError(t, err)
	q := job(t)
	q.Zones.Content = content(t, made.Files, "zones.geojson")
	q.Run = nil
	out, err := engine.Handoff(q)
	require.NoError(t, err)
	plan := out.Sheet.Result.Jobs[0].Plan
	assert.Equal(t, spray.Rows, plan.By)
	assert.InDelta(t, 33, plan.Heading, 1e-9)

	walk := engine.PlanDefaults()
	walk.Only, walk.Stops, walk.Heading = "Pivot", 8, new(float64)
	*walk.Heading = 101
	walked, err := engine.Plan(engine.PlanRequest{PlanSettings: walk, Boundary: m.Boundary})
	require.NoError(t, err)
	require.NoError(t, q.Settings.Rows.Set("stops.geojson"))
	_, err = engine.Handoff(q)
	require.ErrorContains(t, err, "--rows stops.geojson: the file did not come along")
	q.Rows = &engine.Source{Name: "stops.geojson", Content: content(t, walked.Files, "stops.geojson")}
	out, err = engine.Handoff(q)
	require.NoError(t, err)
	assert.InDelta(t, 101, out.Sheet.Result.Jobs[0].Plan.Heading, 1e-9)
	q.Rows.Content = []byte(hives)
	_, err = engine.Handoff(q)
	require.ErrorContains(t, err, "stops.geojson: nothing in it tells how the rows run")
}

func TestRowsAsTheyAreTyped(t *testing.T) {
	for text, path := range map[string]string{"12°": "", "12": "", "-5.5": "", "rows.kml": "rows.kml", "2026-rows.geojson": "2026-rows.geojson", "out/a b.gpx": "out/a b.gpx"} {
		var r engine.RowsSetting
		require.NoError(t, r.Set(text), text)
		assert.Equal(t, path, r.Path(), text)
		assert.Equal(t, text, r.String())
	}
	for _, text := range []string{"361", "12m", "-400", "1.5.2"} {
		assert.Error(t, new(engine.RowsSetting).Set(text), text)
	}
}

// A job of several fields has a folder for each, with one purpose to a file, and those of
// a grower lie in one.
func TestFieldsHaveFoldersOfTheirOwn(t *testing.T) {
	q := job(t)
	q.Run = nil
	one, err := engine.Handoff(q)
	require.NoError(t, err)
	for _, f := range one.Files {
		assert.NotEqual(t, "fields.zip", f.Name, "one field needs none")
	}
	q.Settings.AgainstVerdict, q.Settings.WholeField = true, true
	q.Zones.Content = bytes.ReplaceAll(q.Zones.Content, []byte(`"zone":"clear"`), []byte(`"zone":"treat"`))
	q.Zones.Content = bytes.ReplaceAll(q.Zones.Content, []byte(`"zone":`), []byte(`"customer":"Hill Farm","zone":`))
	two, err := engine.Handoff(q)
	require.NoError(t, err)
	require.Len(t, two.Sheet.Result.Jobs, 2)
	archive, err := zip.NewReader(bytes.NewReader(content(t, two.Files, "fields.zip")), int64(len(content(t, two.Files, "fields.zip"))))
	require.NoError(t, err)
	there := map[string]bool{}
	for _, f := range archive.File {
		there[f.Name] = true
		assert.Equal(t, 1980, f.Modified.Year())
	}
	for _, folder := range []string{"Hill-Farm/Pivot", "Hill-Farm/Corner-block"} {
		for _, name := range []string{"rate_gal_ac.shp", "rate_gal_ac.dbf", "rate_gal_ac.prj", "boundary.shp", "ab_lines.shp", "passes.shp", "ground.kml", "flight.kml", "passes.gpx"} {
			assert.True(t, there[folder+"/"+name], folder+"/"+name)
		}
	}
	assert.True(t, there["Hill-Farm/Pivot/keep_off.kml"])
}
