package cli_test

import (
	"encoding/json"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// boundaries writes the demo's Pivot anew, as one field of another name, as two halves, and as
// one half alone, each beside the other field.
func boundaries(t *testing.T) {
	t.Helper()
	var all struct {
		Type     string           `json:"type"`
		Features []map[string]any `json:"features"`
	}
	text, err := os.ReadFile("field.geojson")
	require.NoError(t, err)
	require.NoError(t, json.Unmarshal(text, &all))
	pivot, corner := all.Features[0], all.Features[1]
	const middle = -101.6011
	var outline struct {
		Features []struct {
			Geometry struct{ Coordinates [][][2]float64 }
		}
	}
	require.NoError(t, json.Unmarshal(text, &outline))
	half := func(name string, keep func(float64) bool) map[string]any {
		var ring [][2]float64
		for _, p := range outline.Features[0].Geometry.Coordinates[0] {
			if !keep(p[0]) {
				p[0] = middle
			}
			ring = append(ring, p)
		}
		return map[string]any{"type": "Feature", "properties": map[string]any{"name": name}, "geometry": map[string]any{"type": "Polygon", "coordinates": [][][2]float64{ring}}}
	}
	w, e := half("West", func(x float64) bool { return x < middle }), half("East", func(x float64) bool { return x > middle })
	renamed := map[string]any{"type": "Feature", "properties": map[string]any{"name": "Home pivot"}, "geometry": pivot["geometry"]}
	for name, features := range map[string][]map[string]any{"renamed": {renamed, corner}, "split": {w, e, corner}, "half": {w, corner}} {
		all.Features = features
		text, err := json.Marshal(all)
		require.NoError(t, err)
		require.NoError(t, os.WriteFile(name+".geojson", text, 0o644))
	}
}

// A field that is renamed, split or joined during the season loses no count: compare goes by the
// ground as it was drawn last, and says so.
func TestAFieldIsDrawnAnewDuringTheSeason(t *testing.T) {
	inFolder(t)
	boundaries(t)
	compared := func(name string) (visits map[string]int, screen string) {
		code, out, errs := run(t, "compare", name+".gpkg", "--out", name, "--details")
		require.Zero(t, code, errs)
		var said struct {
			Fields []struct {
				Field  string
				Visits []any
			}
		}
		require.NoError(t, json.Unmarshal([]byte(contents(t, name)["compare.json"]), &said))
		visits = map[string]int{}
		for _, f := range said.Fields {
			visits[f.Field] = len(f.Visits)
		}
		return visits, strings.Join(strings.Fields(out), " ")
	}
	for name, c := range map[string]struct {
		fields []string // of each week
		visits map[string]int
		added  string // what is said of the last week when it comes in
		says   []string
	}{
		"renamed": {[]string{"field", "renamed"}, map[string]int{"Home pivot": 2, "Corner block": 2}, `field "Home pivot" lies on the same ground as field "Pivot" of the season`,
			[]string{`field "Pivot" is field "Home pivot" by its ground`}},
		"split": {[]string{"field", "split"}, map[string]int{"West": 2, "East": 2, "Corner block": 2}, `field "Pivot" of the season is drawn anew here, as "West", "East"`,
			[]string{`field "Pivot" was drawn anew, as "West", "East"`}},
		"half": {[]string{"field", "field", "half"}, map[string]int{"West": 3, "Pivot": 2, "Corner block": 3}, `field "Pivot" of the season is drawn anew here, as "West"`,
			[]string{`field "Pivot" was drawn anew in part, as "West"`, "and of itself"}},
		"joined": {[]string{"split", "half", "field"}, map[string]int{"Pivot": 2, "Corner block": 3}, `field "East" of the season is drawn anew here, as "Pivot"`,
			[]string{`field "West" was drawn anew, as "Pivot"`, `visit 2 is of a part of field "Pivot" alone, and is left out there`}},
	} {
		last := ""
		for i, field := range c.fields {
			week := "week" + string(rune('1'+i)) + ".csv"
			code, _, errs := run(t, "season", "add", name+".gpkg", week, "--field", field+".geojson")
			require.Zero(t, code, errs)
			last = errs
		}
		assert.Contains(t, last, c.added, name)
		visits, screen := compared(name)
		assert.Equal(t, c.visits, visits, name)
		for _, says := range c.says {
			assert.Contains(t, screen, says, name)
		}
		assert.NotContains(t, screen, "at no visit", name)
	}
	code, _, errs := run(t, "compare", "split.gpkg", "--only", "pivot", "--out", "x")
	assert.Equal(t, 2, code)
	assert.Contains(t, errs, `--only: field "Pivot" was drawn anew, as "West", "East"`)

	code, _, errs = run(t, "season", "merge", "office.gpkg", "renamed.gpkg", "split.gpkg")
	require.Zero(t, code, errs)
	assert.Contains(t, errs, `fields "Home pivot", "Pivot" have one boundary: compare takes them as one field`)
	assert.True(t, slices.ContainsFunc(strings.Split(errs, "\n"), func(line string) bool {
		return strings.Contains(line, "lie on the same ground") && strings.Contains(line, `"West"`)
	}), errs)
}

// What is given back makes the same season again, though a field was renamed and ground was
// treated: the same visits of the same fields, by their digests.
func TestASeasonOfWhatItGaveBackIsTheSame(t *testing.T) {
	inFolder(t)
	boundaries(t)
	require.NoError(t, os.WriteFile("sprayed.geojson", []byte(sprayed), 0o644))
	for _, args := range []string{
		"add s.gpkg week1.csv --field field.geojson", "add s.gpkg week2.csv --field split.geojson", "add s.gpkg week3.csv --field field.geojson --treated sprayed.geojson",
		"export s.gpkg --out back",
		"add again.gpkg back/week1.csv --field back/fields-1,3.geojson", "add again.gpkg back/week2.csv --field back/fields-2.geojson", "add again.gpkg back/week3.csv --field back/fields-1,3.geojson --treated back/treatments.geojson",
		"merge both.gpkg s.gpkg again.gpkg",
	} {
		code, out, errs := run(t, append([]string{"season"}, strings.Fields(args)...)...)
		require.Zero(t, code, errs)
		if strings.HasPrefix(args, "merge") {
			assert.Contains(t, out, "3 visits added, 3 there already\n1 treatment added, 1 there already")
		}
	}
	assert.ElementsMatch(t, []string{"week1.csv", "week2.csv", "week3.csv", "fields-1,3.geojson", "fields-2.geojson", "treatments.geojson"}, names(t, "back"))
}
