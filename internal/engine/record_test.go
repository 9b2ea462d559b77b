package engine_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/engine"
)

// mapped is the folder that a map leaves.
func mapped(t testing.TB, q engine.MapRequest, made *engine.MapOutcome) *engine.MapFolder {
	read := map[string]engine.Source{q.Boundary.Name: q.Boundary}
	for _, s := range q.Samples {
		read[s.Name] = s
	}
	if q.Config != nil {
		read[q.Config.Name] = *q.Config
	}
	for _, f := range made.Files {
		read["out/"+f.Name] = engine.Source{Name: "out/" + f.Name, Content: f.Content}
	}
	return &engine.MapFolder{
		Name: "out", Run: engine.Source{Name: "out/run.json", Content: content(t, made.Files, "run.json")},
		Summary: engine.Source{Name: "out/summary.json", Content: content(t, made.Files, "summary.json")},
		Load: func(path string) (engine.Source, error) {
			from, ok := read[path]
			if !ok {
				return from, fmt.Errorf("%s was not read", path)
			}
			return from, nil
		},
	}
}

// ruledMorning is a morning by a rule, with a page.
func ruledMorning(t testing.TB, set func(*engine.Settings)) (engine.MapRequest, *engine.MapOutcome) {
	q := morning(t, "week2")
	q.Settings.Rule, q.Settings.Write = "sorghum-aphid-texas-mean", []string{"report"}
	set(&q.Settings)
	made, err := engine.Map(t.Context(), q)
	require.NoError(t, err)
	return q, made
}

var asked = map[string]func(*engine.Settings){
	"nothing":        func(*engine.Settings) {},
	"a stage":        func(o *engine.Settings) { o.Stage = "boot" },
	"a watch level":  func(o *engine.Settings) { o.WatchAt = 5 },
	"a next visit":   func(o *engine.Settings) { o.NextVisit = 3 },
	"how it doubles": func(o *engine.Settings) { o.Doubling = 9 },
}

// recorded are the settings that the record of a map holds.
func recorded(t *testing.T, made *engine.MapOutcome) (settings map[string]any) {
	t.Helper()
	var record struct{ Settings map[string]any }
	require.NoError(t, json.Unmarshal(content(t, made.Files, "run.json"), &record))
	return record.Settings
}

// Where prices were given and no part that a spray controls, all of it is taken, and the
// record says so; a part that was given stays.
func TestTheRecordTellsWhatASprayControls(t *testing.T) {
	control := func(price, given float64) any {
		q := morning(t, "week2")
		q.Settings.Cost, q.Settings.Price, q.Settings.Loss, q.Settings.Control = 10, price, 0.1, given
		if price == 0 {
			q.Settings.Cost, q.Settings.Loss = 0, 0
		}
		made, err := engine.Map(t.Context(), q)
		require.NoError(t, err)
		return recorded(t, made)["control"]
	}
	assert.Equal(t, 1.0, control(5, 0))
	assert.Equal(t, 0.8, control(5, 0.8))
	assert.Nil(t, control(0, 0))
}

// The loss of yield that was given goes before that of the rule.
func TestTheLossGivenGoesBeforeTheRules(t *testing.T) {
	loss := func(given float64) any {
		q := morning(t, "week2")
		q.Samples[0].Content = bytes.ReplaceAll(q.Samples[0].Content, []byte("sorghum aphid"), []byte("lygus bug"))
		o := &q.Settings
		o.Rule, o.Stage, o.Per = "canola-lygus", "late pod", engine.PerArea{Acre: true}
		o.Cost, o.Price, o.Loss = 12, 10, given
		made, err := engine.Map(t.Context(), q)
		require.NoError(t, err)
		return recorded(t, made)["loss"]
	}
	assert.Equal(t, 0.0882, loss(0), "the rule's")
	assert.Equal(t, 0.2, loss(0.2))
}

// What was asked beside a rule stands in the record apart from what the rule brought.
func TestAPageMadeLaterIsThatOfTheMap(t *testing.T) {
	for name, set := range asked {
		q, made := ruledMorning(t, set)
		later, err := engine.Report(t.Context(), engine.ReportRequest{Folder: *mapped(t, q, made), Write: q.Settings.WriteSettings})
		require.NoError(t, err, name)
		assert.True(t, string(content(t, made.Files, "report.html")) == string(content(t, later.Files, "report.html")), name)
	}
}

func TestAFolderOfMapIsAdoptedAsItWasAsked(t *testing.T) {
	for name, set := range asked {
		q, made := ruledMorning(t, set)
		w, ok, err := engine.Adopted([]engine.Week{{Folder: mapped(t, q, made)}})
		require.NoError(t, err)
		require.True(t, ok)
		want := q.Settings
		want.Write, want.Field, want.Out = w.Settings.Write, w.Settings.Field, w.Settings.Out
		assert.Equal(t, want, w.Settings, name)
	}
}

// A file is known by its place in the record, whatever it is called.
func TestInputsAreDistinguished(t *testing.T) {
	q := morning(t, "week2")
	q.Samples[0].Name = "week2.toml"
	q.Config = &engine.Source{Name: "farm settings", Content: []byte("cell = 5\n")}
	made, err := engine.Map(t.Context(), q)
	require.NoError(t, err)
	compared, err := engine.Compare(t.Context(), engine.CompareRequest{
		Setup: engine.Setup{Settings: engine.Defaults()}, Weeks: []engine.Week{{Folder: mapped(t, q, made)}, {Counts: source(t, "week3.csv")}},
	})
	require.NoError(t, err)
	var record struct{ Inputs []engine.Input }
	require.NoError(t, json.Unmarshal(content(t, compared.Files, "run.json"), &record))
	var read []string
	for _, in := range record.Inputs {
		read = append(read, in.Path)
	}
	assert.Equal(t, []string{"field.geojson", "out/run.json", "out/summary.json", "week2.toml", "week3.csv"}, read)
}

// Points and outlines may stand in one file.
func TestOneFileOfStopsAndFields(t *testing.T) {
	q := morning(t, "week2")
	text := `{"type":"FeatureCollection","features":[
{"type":"Feature","properties":{"name":"F"},"geometry":{"type":"Polygon","coordinates":[[[-101.6,35.9],[-101.596,35.9],[-101.596,35.903],[-101.6,35.903],[-101.6,35.9]]]}}`
	for i := range 12 {
		text += fmt.Sprintf(`,
{"type":"Feature","properties":{"stop":"%d","count":%d,"pest":"sorghum aphid"},"geometry":{"type":"Point","coordinates":[%g,%g]}}`,
			i, 20*i, -101.5995+float64(i%4)*0.001, 35.9005+float64(i/4)*0.001)
	}
	both := engine.Source{Name: "farm.geojson", Content: []byte(text + "]}")}
	q.Settings.Field, q.Boundary, q.Samples = both.Name, both, []engine.Source{both}
	q.Settings.Write = []string{"report"}
	made, err := engine.Map(t.Context(), q)
	require.NoError(t, err)
	later, err := engine.Report(t.Context(), engine.ReportRequest{Folder: *mapped(t, q, made), Write: q.Settings.WriteSettings})
	require.NoError(t, err)
	assert.True(t, string(content(t, made.Files, "report.html")) == string(content(t, later.Files, "report.html")))
}

// Records of before tell less, and are read all the same.
func TestRecordsOfBefore(t *testing.T) {
	q, made := ruledMorning(t, func(o *engine.Settings) { o.WatchAt = 5 })
	for name, without := range map[string][]string{"what the rule set": {"ruled"}, "what nobody gave": {"ruled", "filled_in"}} {
		folder := mapped(t, q, made)
		var record map[string]any
		require.NoError(t, json.Unmarshal(folder.Run.Content, &record))
		for _, key := range without {
			require.Contains(t, record, key)
			delete(record, key)
		}
		var err error
		folder.Run.Content, err = json.Marshal(record)
		require.NoError(t, err)
		w, _, err := engine.Adopted([]engine.Week{{Folder: folder}})
		require.NoError(t, err, name)
		assert.Equal(t, [4]float64{0, 5, 0, 0}, [4]float64{w.Settings.TreatAt, w.Settings.WatchAt, w.Settings.NextVisit, w.Settings.Tally}, name)
		_, err = engine.Report(t.Context(), engine.ReportRequest{Folder: *folder, Write: q.Settings.WriteSettings})
		assert.NoError(t, err, name)
	}
}
