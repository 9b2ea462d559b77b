package cli_test

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// edited changes the features of a GeoJSON file.
func edited(t testing.TB, path string, change func(features []map[string]any)) {
	t.Helper()
	var file map[string]any
	text, err := os.ReadFile(path)
	require.NoError(t, err)
	require.NoError(t, json.Unmarshal(text, &file))
	var features []map[string]any
	for _, f := range file["features"].([]any) {
		features = append(features, f.(map[string]any))
	}
	change(features)
	text, err = json.Marshal(file)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(path, text, 0o644))
}

// shifted moves all coordinates of a geometry east.
func shifted(at any, degrees float64) {
	list := at.([]any)
	if lon, place := list[0].(float64); place {
		list[0] = lon + degrees
		return
	}
	for _, inner := range list {
		shifted(inner, degrees)
	}
}

// treatOf is the treat zone of a field.
func treatOf(features []map[string]any, field string) map[string]any {
	for _, f := range features {
		if p := f["properties"].(map[string]any); p["zone"] == "treat" && p["field"] == field {
			return f
		}
	}
	return nil
}

// tamperings are what may have become of the folder of a map, with what is said of it.
var tamperings = map[string]struct {
	change func(t testing.TB)
	want   string
}{
	"a treat zone on other ground": {func(t testing.TB) {
		edited(t, "out/zones.geojson", func(all []map[string]any) {
			shifted(treatOf(all, "Pivot")["geometry"].(map[string]any)["coordinates"], 0.005)
		})
	}, `out/zones.geojson is not what map wrote: field "Pivot": `},
	"a treat zone of another size": {func(t testing.TB) {
		edited(t, "out/zones.geojson", func(all []map[string]any) {
			treatOf(all, "Pivot")["properties"].(map[string]any)["area_ha"] = 1.0
		})
	}, `field "Pivot": the treat zone says 1.00 ha and its ground is `},
	"no verdict": {func(t testing.TB) {
		edited(t, "out/zones.geojson", func(all []map[string]any) {
			treatOf(all, "Pivot")["properties"].(map[string]any)["verdict"] = nil
		})
	}, `field "Pivot": the treat zone has an empty verdict`},
	"another verdict": {func(t testing.TB) {
		edited(t, "out/zones.geojson", func(all []map[string]any) {
			for _, f := range all {
				f["properties"].(map[string]any)["verdict"] = "no spray"
			}
		})
	}, "out/zones.geojson is not what map wrote: it was changed since, though areas and verdicts fit"},
	"another stop": {func(t testing.TB) {
		edited(t, "out/stops.geojson", func(all []map[string]any) { all[0]["properties"].(map[string]any)["value"] = 0.5 })
	}, "out/stops.geojson is not what map wrote there: it was changed since"},
	"another summary": {func(t testing.TB) {
		text, err := os.ReadFile("out/summary.json")
		require.NoError(t, err)
		require.NoError(t, os.WriteFile("out/summary.json", []byte(strings.Replace(string(text), `"treat_at": 40`, `"treat_at": 80`, 1)), 0o644))
	}, "out/summary.json is not what map wrote there: it was changed since"},
	"another program's record": {func(t testing.TB) { recordSays(t, "program", "another") }, "out was not written by map"},
	"a later version's record": {func(t testing.TB) { recordSays(t, "format", 99) }, "out/run.json was written by a later version of this program, (devel)"},
}

// recordSays changes an entry of the record of a map.
func recordSays(t testing.TB, name string, value any) {
	t.Helper()
	var record map[string]any
	text, err := os.ReadFile("out/run.json")
	require.NoError(t, err)
	require.NoError(t, json.Unmarshal(text, &record))
	if record[name] = value; value == nil {
		delete(record, name)
	}
	text, err = json.Marshal(record)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile("out/run.json", text, 0o644))
}

// Who reads the folder of a map compares it with what map wrote, and says which file, or
// which zone, is another.
func TestChangedResultsAreRefused(t *testing.T) {
	readers := map[string][]string{
		"handoff": {"handoff", "out", "--swath", "24m", "--out", "made"},
		"report":  {"report", "out"},
		"compare": {"compare", "out", "week2.csv", "--field", "field.geojson", "--out", "made"},
		"plan":    {"plan", "--field", "field.geojson", "--only", "Pivot", "--after", "out", "--add", "3", "--out", "made"},
		"record":  {"record", "out", "--date", "2026-07-24", "--field", "Pivot", "--product", "A=9 L", "--area", "3ha", "--who", "somebody"},
	}
	reads := map[string][]string{
		"a treat zone on other ground": {"handoff"}, "a treat zone of another size": {"handoff"}, "no verdict": {"handoff"},
		"another verdict": {"handoff"}, "another stop": {"handoff", "report", "plan"}, "another summary": {"report", "compare", "plan", "handoff", "record"},
		"another program's record": {"handoff", "report", "compare", "plan", "record"}, "a later version's record": {"handoff", "report", "compare", "plan", "record"},
	}
	mapped(t)
	kept := contents(t, "out")
	for name, c := range tamperings {
		for _, reader := range reads[name] {
			t.Run(name+", "+reader, func(t *testing.T) {
				require.NoError(t, os.RemoveAll("out"))
				require.NoError(t, os.Mkdir("out", 0o755))
				for file, text := range kept {
					require.NoError(t, os.WriteFile(filepath.Join("out", file), []byte(text), 0o644))
				}
				c.change(t)
				code, out, errs := run(t, readers[reader]...)
				assert.Equal(t, 1, code, out)
				assert.Contains(t, errs, c.want)
				assert.Contains(t, errs, "hint: ")
				assert.NoDirExists(t, "made")
			})
		}
	}
}

// Zones that a person edited on purpose are taken when it is said so: cut at the field,
// with their own areas, and told of wherever the job is shown.
func TestEditedZonesAreTakenWhenTrusted(t *testing.T) {
	mapped(t)
	edited(t, "out/zones.geojson", func(all []map[string]any) {
		// A box with a part beyond the field's west edge.
		treatOf(all, "Pivot")["geometry"] = map[string]any{"type": "Polygon", "coordinates": []any{[]any{
			[]any{-101.62, 35.897}, []any{-101.6, 35.897}, []any{-101.6, 35.898}, []any{-101.62, 35.898}, []any{-101.62, 35.897}}}}
	})
	job := []string{"handoff", "out", "--swath", "24m", "--rate", "140L/ha", "--out", "job"}
	code, _, errs := run(t, job...)
	assert.Equal(t, 1, code)
	assert.Contains(t, errs, "hint: run map again; or, where you edited the zones on purpose, give --trust-edited")
	assert.NoDirExists(t, "job")

	code, out, errs := run(t, append(job, "--trust-edited", "--against-verdict")...)
	require.Zero(t, code, errs)
	files := contents(t, "job")
	for where, text := range map[string]string{"screen": out, "sheet": files["jobsheet.html"], "KML": files["handoff.kml"]} {
		assert.Contains(t, text, "EDITED BY HAND", where)
	}
	for _, name := range []string{"ground.geojson", "swaths.geojson", "passes.geojson", "switches.geojson"} {
		assert.Contains(t, files[name], `"verdict":"edited by hand"`, name)
	}
	assert.Contains(t, files["handoff_run.json"], `"trust-edited": "true"`)
	var made struct {
		Jobs []struct {
			Field   string  `json:"field"`
			Verdict string  `json:"verdict"`
			Before  string  `json:"verdict_before"`
			Treat   float64 `json:"treat_m2"`
			Out     float64 `json:"out_of_field_m2"`
		} `json:"jobs"`
	}
	require.NoError(t, json.Unmarshal([]byte(files["handoff.json"]), &made))
	require.NotEmpty(t, made.Jobs)
	pivot := made.Jobs[0]
	assert.Equal(t, "Pivot", pivot.Field)
	assert.Equal(t, "edited by hand", pivot.Verdict)
	assert.NotEmpty(t, pivot.Before)
	// The box is 1.8 km long and 111 m high; the field begins some 1.4 km east of its west side.
	assert.Less(t, pivot.Treat, 0.5*1805*111)
	assert.Greater(t, pivot.Treat, 0.1*1805*111)
}

// A folder of an earlier version, which kept no digests, is read; what can be seen without
// them is.
func TestFoldersWithoutDigestsAreRead(t *testing.T) {
	mapped(t)
	recordSays(t, "outputs", nil)
	recordSays(t, "format", nil)
	job := []string{"handoff", "out", "--swath", "24m", "--out", "job"}
	code, _, errs := run(t, job...)
	require.Zero(t, code, errs)
	code, _, errs = run(t, "report", "out")
	require.Zero(t, code, errs)
	edited(t, "out/zones.geojson", func(all []map[string]any) {
		shifted(treatOf(all, "Pivot")["geometry"].(map[string]any)["coordinates"], 0.005)
	})
	code, _, errs = run(t, job...)
	assert.Equal(t, 1, code)
	assert.Contains(t, errs, "of the treat zone lies outside the field")
}
