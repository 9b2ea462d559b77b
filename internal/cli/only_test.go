package cli_test

import (
	"bytes"
	"encoding/json"
	"maps"
	"os"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// summaryOf are the fields of a folder's summary, by their names.
func summaryOf(t *testing.T, folder string) map[string]map[string]any {
	t.Helper()
	return fieldsOf(t, contents(t, folder)["summary.json"])
}

// fieldsOf are the fields of a summary by their names.
func fieldsOf(t *testing.T, summary string) map[string]map[string]any {
	t.Helper()
	var made struct{ Fields []map[string]any }
	require.NoError(t, json.Unmarshal([]byte(summary), &made))
	fields := map[string]map[string]any{}
	for _, f := range made.Fields {
		fields[f["field"].(string)] = f
	}
	return fields
}

// zonesByField are the features of a folder's zones, by their fields.
func zonesByField(t *testing.T, folder string) map[string][]any {
	t.Helper()
	var made struct {
		Features []struct {
			Properties map[string]any
			Geometry   any
		}
	}
	require.NoError(t, json.Unmarshal([]byte(contents(t, folder)["zones.geojson"]), &made))
	fields := map[string][]any{}
	for _, f := range made.Features {
		name := f.Properties["field"].(string)
		fields[name] = append(fields[name], f.Properties, f.Geometry)
	}
	return fields
}

func TestOnlySomeFieldsAreAnsweredTheSame(t *testing.T) {
	args := lattices(t, twelve())
	code, _, errs := run(t, args...)
	require.Zero(t, code, errs)
	all, zones := summaryOf(t, "out"), zonesByField(t, "out")
	for _, name := range []string{"North 4", "South 4"} { // one beside others, one with a row not read
		code, out, errs := run(t, append(args, "--only", name)...)
		require.Zero(t, code, errs)
		assert.NotContains(t, out, "North 3")
		only := summaryOf(t, "out")
		require.Len(t, only, 1)
		assert.Equal(t, all[name], only[name])
		assert.Equal(t, map[string][]any{name: zones[name]}, zonesByField(t, "out"))
	}
	code, out, errs := run(t, append(args, "--only", "home", "--only", "North  3", "--details")...)
	require.Zero(t, code, errs)
	assert.Len(t, summaryOf(t, "out"), 2, "without regard to case and spaces")
	assert.Contains(t, out, "10 other fields with 107 stops left out, as asked: --only")
	var made struct{ Rows map[string]int }
	require.NoError(t, json.Unmarshal([]byte(contents(t, "out")["summary.json"]), &made))
	assert.Equal(t, map[string]int{"read": 24, "used": 24, "set_aside": 0, "other_pest": 0}, made.Rows, "the row that was not read is of another field")
	code, _, _ = run(t, append(args, "--only", "South 4", "--strict")...)
	assert.Equal(t, 3, code)
	code, _, _ = run(t, append(args, "--only", "South 3", "--strict")...)
	assert.Zero(t, code)

	for _, c := range []struct {
		only string
		code int
		want string
	}{{"Nowhere", 2, `--only: no field is called "Nowhere"; there are North 1, North 2,`}, {"Far", 1, "no stop lies in the fields asked for"}} {
		code, _, errs = run(t, append(args, "--only", c.only)...)
		assert.Equal(t, c.code, code)
		assert.Contains(t, errs, c.want)
	}
}

func TestOnlyGoesOnToReportHandoffAndCompare(t *testing.T) {
	args := lattices(t, twelve())
	later(t)
	code, _, errs := run(t, args...)
	require.Zero(t, code, errs)

	code, _, errs = run(t, "report", "out", "--only", "Home")
	require.Zero(t, code, errs)
	page := contents(t, "out")["report.html"]
	assert.Contains(t, page, "Home")
	assert.NotContains(t, page, "North 3")
	code, _, errs = run(t, "report", "out", "--only", "Hom")
	assert.Equal(t, 2, code)
	assert.Contains(t, errs, `no field is called "Hom"`)

	code, _, errs = run(t, "handoff", "out", "--swath", "24m", "--out", "job", "--only", "North 3")
	require.Zero(t, code, errs)
	code, _, errs = run(t, "handoff", "out", "--swath", "24m", "--out", "all", "--against-verdict")
	require.Zero(t, code, errs)
	assert.Contains(t, contents(t, "job")["passes.geojson"], "North 3")
	assert.NotContains(t, contents(t, "job")["passes.geojson"], "South 3")
	assert.Contains(t, contents(t, "all")["passes.geojson"], "South 3")
	code, _, errs = run(t, "handoff", "out", "--swath", "24m", "--out", "job", "--only", "North 1")
	assert.Equal(t, 1, code)
	assert.NotContains(t, errs, "North 2", "it was not asked for")
	code, _, errs = run(t, "handoff", "out", "--swath", "24m", "--out", "job", "--only", "North")
	assert.Equal(t, 1, code)
	assert.Contains(t, errs, `--only: no field is called "North"`)

	code, out, errs := run(t, "compare", "farm.csv", "later.csv", "--field", "farm.geojson", "--out", "change", "--only", "Home", "--only", "Crest")
	require.Zero(t, code, errs)
	assert.Contains(t, out, "Home")
	assert.NotContains(t, out, "North 3")

	// A folder of some fields is compared and drawn as it is.
	code, _, errs = run(t, append(args, "--only", "Home", "--only", "Crest")...)
	require.Zero(t, code, errs)
	code, _, errs = run(t, "report", "out")
	require.Zero(t, code, errs)
	assert.NotContains(t, contents(t, "out")["report.html"], "North 3")
	code, _, errs = run(t, "report", "out", "--only", "North 3")
	assert.Equal(t, 2, code)
	assert.Contains(t, errs, "there are Home, Crest")
	code, _, errs = run(t, "season", "add", "s.gpkg", "farm.csv", "--field", "farm.geojson", "--only", "Home")
	assert.Equal(t, 2, code)
	assert.Contains(t, errs, "a season keeps all fields")
}

// Names that differ in case alone are two fields: the one that is written is meant.
func TestOnlyTellsNamesApartByTheirCase(t *testing.T) {
	inFolder(t)
	text, err := os.ReadFile("field.geojson")
	require.NoError(t, err)
	require.NoError(t, os.WriteFile("field.geojson", bytes.ReplaceAll(text, []byte("Corner block"), []byte("PIVOT")), 0o600))
	for _, name := range []string{"Pivot", "PIVOT"} {
		code, _, errs := run(t, week("2", "--only", name, "--force")...)
		require.Zero(t, code, errs)
		assert.Equal(t, []string{name}, slices.Collect(maps.Keys(summaryOf(t, "out"))))
		code, _, errs = run(t, "plan", "--field", "field.geojson", "--only", name, "--stops", "6", "--out", "plan "+name)
		require.Zero(t, code, errs)
	}
	for _, args := range [][]string{week("2", "--only", "pivot", "--force"), {"plan", "--field", "field.geojson", "--only", "pivot", "--stops", "6", "--out", "p"}} {
		code, _, errs := run(t, args...)
		assert.Equal(t, 2, code, args)
		assert.Contains(t, errs, `--only: "pivot" can be "Pivot", "PIVOT": write it as the one that is meant`)
	}
}
