package engine_test

import (
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
