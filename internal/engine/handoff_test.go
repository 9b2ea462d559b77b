package engine_test

import (
	"encoding/json"
	"errors"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/engine"
)

// hives are an invented keep-off.
const hives = `{"type":"Feature","properties":{"name":"hives"},"geometry":{"type":"Point","coordinates":[-101.598,35.8995]}}`

// third are the files of the map of the third week, made for the first job.
var third []engine.File

// job asks for the third week of the demo to be handed over, hives kept off.
func job(t testing.TB) engine.HandoffRequest {
	t.Helper()
	if third == nil {
		made, err := engine.Map(t.Context(), morning(t, "week3"))
		require.NoError(t, err)
		third = made.Files
	}
	q := engine.HandoffRequest{Settings: engine.HandoffDefaults(), Version: "test", Asked: map[string]string{"out": "job"}}
	q.Zones = engine.Source{Name: "out/zones.geojson", Content: content(t, third, "zones.geojson")}
	q.Run = &engine.Source{Name: "out/run.json", Content: content(t, third, "run.json")}
	require.NoError(t, q.Settings.Swath.Set("80 ft"))
	require.NoError(t, q.Settings.Rate.Set("15gal/ac"))
	require.NoError(t, q.Settings.Product.Set("product A=3lb/ac"))
	require.NoError(t, q.Settings.KeepOff.Set("farm/hives.geojson=100ft"))
	q.KeepOffs = []engine.Source{{Name: "farm/hives.geojson", Content: []byte(hives)}}
	return q
}

func TestHandoffOfBytes(t *testing.T) {
	q := job(t)
	first, err := engine.Handoff(q)
	require.NoError(t, err)
	again, err := engine.Handoff(q)
	require.NoError(t, err)
	assert.Equal(t, first.Files, again.Files)
	for _, f := range first.Files {
		assert.Contains(t, engine.HandoffFiles, f.Name)
	}
	kept := first.Sheet.Result.Jobs[0].KeepOffs
	require.Len(t, kept, 1)
	assert.Equal(t, "hives", kept[0].Name)
	assert.InDelta(t, 30.48, kept[0].SetBack, 1e-9)
	content(t, first.Files, "TASKDATA.zip")
	if geofile.WithGeoPackage {
		content(t, first.Files, "handoff.gpkg")
	}

	var record engine.HandoffRecord
	require.NoError(t, json.Unmarshal(content(t, first.Files, "handoff_run.json"), &record))
	var paths []string
	for _, in := range record.Inputs {
		paths = append(paths, in.Path)
	}
	assert.Equal(t, []string{"out/zones.geojson", "farm/hives.geojson"}, paths)
	for name, want := range map[string]string{
		"swath": "80ft", "sections": "1", "stop-error": "4.9m", "rate": "15gal/ac", "product": "product A=3lb/ac",
		"keep-off": "farm/hives.geojson=100ft", "guidance": "false", "heading": "", "units": "", "out": "job",
	} {
		got, kept := record.Settings[name]
		assert.True(t, kept, name)
		assert.Equal(t, want, got, name)
	}
}

// Ground beside the field that is drawn as no field is sprayed by nobody.
func TestHandoffKeepsOutOfClosedGround(t *testing.T) {
	q := job(t)
	open, err := engine.Handoff(q)
	require.NoError(t, err)
	require.Positive(t, open.Sheet.Result.Totals().OutOfField)
	q.Closed = &engine.Source{Name: "out/closed.geojson", Content: []byte(`{"type":"Feature","properties":{"name":"pond"},"geometry":{"type":"Polygon",
"coordinates":[[[-101.61,35.89],[-101.58,35.89],[-101.58,35.91],[-101.61,35.91],[-101.61,35.89]]]}}`)}
	closed, err := engine.Handoff(q)
	require.NoError(t, err)
	assert.InDelta(t, 0, closed.Sheet.Result.Totals().OutOfField, 1)

	q.Closed.Content = []byte(hives)
	_, err = engine.Handoff(q)
	assert.EqualError(t, err, "out/closed.geojson: feature 1 is no polygon")
}

func TestHandoffRefusesBytes(t *testing.T) {
	for name, c := range map[string]struct {
		change func(*engine.HandoffRequest)
		want   string
		usage  bool
	}{
		"a file that did not come along": {func(q *engine.HandoffRequest) { q.KeepOffs = nil }, "--keep-off farm/hives.geojson: the file did not come along", false},
		"a keep-off on another continent": {func(q *engine.HandoffRequest) {
			q.KeepOffs = []engine.Source{{Name: "far/hives.geojson", Content: []byte(`{"type":"Point","coordinates":[101.598,35.8995]}`)}}
		}, "hives.geojson: nothing in it lies within", false},
		"half a record":   {func(q *engine.HandoffRequest) { q.Run.Content = []byte("{") }, "out/run.json: ", false},
		"no zones":        {func(q *engine.HandoffRequest) { q.Zones = source(t, "field.geojson") }, "field.geojson: feature 1 has no property zone", false},
		"no rate":         {func(q *engine.HandoffRequest) { require.NoError(t, q.Settings.Rate.Set("0L/ha")) }, "--rate 0L/ha: want more than 0", true},
		"no swath":        {func(q *engine.HandoffRequest) { q.Settings.Swath = engine.Length{} }, "want 0.5 to 100 m", true},
		"no days at all":  {func(q *engine.HandoffRequest) { q.Settings.GoodFor = -1 }, "--good-for -1: want 1 day or more", true},
		"another version": {func(q *engine.HandoffRequest) { q.Settings.IsoVersion = 2 }, "--iso-version 2: want 4 or 3", true},
	} {
		q := job(t)
		c.change(&q)
		_, err := engine.Handoff(q)
		assert.ErrorContains(t, err, c.want, name)
		var usage engine.UsageError
		assert.Equal(t, c.usage, errors.As(err, &usage), name)
	}
}

// Settings go to JSON and back as they were typed.
func TestHandoffSettingsGoToJSONAndBack(t *testing.T) {
	want := job(t).Settings
	text, err := json.Marshal(want)
	require.NoError(t, err)
	assert.Contains(t, string(text), `"swath":"80ft"`)
	assert.Contains(t, string(text), `"keep-off":["farm/hives.geojson=100ft"]`)
	got := engine.HandoffDefaults()
	require.NoError(t, json.Unmarshal(text, &got))
	assert.Equal(t, want, got)
	assert.ErrorContains(t, json.Unmarshal([]byte(`{"swath":"80"}`), &got), "want a number with m, ft")
	assert.ErrorContains(t, json.Unmarshal([]byte(`{"keep-off":["hives.geojson"]}`), &got), "want FILE=SETBACK")
}

// Zones that come alone know nothing of ponds across an edge, and the sheet says so;
// those of a folder, or with what belongs to them beside, do.
func TestZonesThatComeAloneKnowNoPonds(t *testing.T) {
	const says = "zones.geojson came alone, without closed.geojson or run.json of its map. A pond or a yard across a field's edge is not known: name it with --keep-off"
	whole := job(t)
	for name, c := range map[string]struct {
		change func(*engine.HandoffRequest)
		says   bool
	}{
		"a folder":           {func(*engine.HandoffRequest) {}, false},
		"alone":              {func(q *engine.HandoffRequest) { q.Run = nil }, true},
		"run.json is beside": {func(q *engine.HandoffRequest) { q.Run, q.Recorded = nil, true }, false},
		"the ponds are known": {func(q *engine.HandoffRequest) {
			q.Run, q.Closed = nil, &engine.Source{Name: "closed.geojson", Content: []byte(`{"type":"FeatureCollection","features":[]}`)}
		}, false},
	} {
		q := whole
		c.change(&q)
		made, err := engine.Handoff(q)
		require.NoError(t, err, name)
		if !c.says {
			assert.NotContains(t, made.Sheet.Result.KeepOffNotes, says, name)
			continue
		}
		assert.Contains(t, made.Sheet.Result.KeepOffNotes, says, name)
		assert.Contains(t, string(content(t, made.Files, "jobsheet.html")), "came alone", name)
		assert.Contains(t, string(content(t, made.Files, "handoff.json")), "came alone", name)
	}
}
