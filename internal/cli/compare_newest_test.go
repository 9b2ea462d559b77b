package cli_test

import (
	"encoding/json"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// shrunk is a boundary whose coordinates lie nearer to the first of its field.
func shrunk(t *testing.T, boundary []byte) []byte {
	t.Helper()
	var c struct {
		Type     string `json:"type"`
		Features []struct {
			Type       string         `json:"type"`
			Properties map[string]any `json:"properties"`
			Geometry   struct {
				Type        string         `json:"type"`
				Coordinates [][][2]float64 `json:"coordinates"`
			} `json:"geometry"`
		} `json:"features"`
	}
	require.NoError(t, json.Unmarshal(boundary, &c))
	for _, f := range c.Features {
		about := f.Geometry.Coordinates[0][0]
		for _, ring := range f.Geometry.Coordinates {
			for i, p := range ring {
				ring[i] = [2]float64{about[0] + (p[0]-about[0])*0.95, about[1] + (p[1]-about[1])*0.95}
			}
		}
	}
	out, err := json.Marshal(c)
	require.NoError(t, err)
	return out
}

// Folders of map are compared by the settings and in the boundary of the newest visit, in
// whatever order they are given, and one line says which were mapped otherwise.
func TestTheNewestFolderTellsSettingsAndBoundary(t *testing.T) {
	inFolder(t)
	boundary, err := os.ReadFile("field.geojson")
	require.NoError(t, err)
	require.NoError(t, os.WriteFile("smaller.geojson", shrunk(t, boundary), 0o600))
	for out, args := range map[string][]string{
		"other":   {"week1.csv", "--field", "field.geojson", "--treat-at", "20"},
		"same":    {"week1.csv", "--field", "field.geojson", "--date-order", "day-first"}, // a way of reading
		"newest":  {"week2.csv", "--field", "field.geojson"},
		"smaller": {"week2.csv", "--field", "smaller.geojson"},
	} {
		code, _, errs := run(t, append([]string{"map", "--only", "Corner block", "--out", out, "--quiet"}, args...)...)
		require.Zero(t, code, errs)
	}
	type changed struct {
		TreatAt float64 `json:"treat_at"`
		Fields  []struct {
			Ha float64 `json:"area_ha"`
		}
		Notes []string
	}
	areas := map[string]float64{}
	for _, c := range []struct{ older, newest, says string }{
		{"other", "newest", "other: mapped with other settings than newest, the newest visit; all are worked out with those of the newest and the flags given"},
		{"same", "newest", ""},
		{"same", "smaller", "same: mapped with another boundary than smaller, the newest visit; all are worked out with that of the newest"},
		{"other", "smaller", "other: mapped with other settings and another boundary than smaller, the newest visit; all are worked out with those of the newest and the flags given"},
	} {
		for _, order := range [][]string{{c.older, c.newest}, {c.newest, c.older}} {
			code, out, errs := run(t, append([]string{"compare", "--json", "--out", "change"}, order...)...)
			require.Zero(t, code, errs)
			var got changed
			require.NoError(t, json.Unmarshal([]byte(out), &got))
			assert.Equal(t, 40.0, got.TreatAt, order)
			areas[strings.Join(order, " ")] = got.Fields[0].Ha
			var told []string
			for _, n := range got.Notes {
				if strings.Contains(n, "mapped with") {
					told = append(told, n)
				}
			}
			assert.Equal(t, c.says, strings.Join(told, "\n"))
		}
	}
	assert.Equal(t, areas["same newest"], areas["newest same"])
	assert.Equal(t, areas["same smaller"], areas["smaller same"])
	assert.InEpsilon(t, areas["same newest"]*0.95*0.95, areas["same smaller"], 1e-3)
	// Who gives a boundary is told of none.
	code, out, errs := run(t, "compare", "smaller", "same", "--field", "field.geojson", "--out", "change")
	require.Zero(t, code, errs)
	assert.NotContains(t, out, "mapped with")
}

// What the newest map was made from must be what it was, its boundary and the files that settings
// name too, unless the call gives it.
func TestWhatTheNewestFolderWasMadeFromIsWhatItWas(t *testing.T) {
	inFolder(t)
	boundary, err := os.ReadFile("field.geojson")
	require.NoError(t, err)
	put(t, "levels.csv", "field,treat_at\nCorner block,20\n")
	for out, args := range map[string][]string{
		"older":  {"week1.csv"},
		"newest": {"week2.csv", "--fields", "levels.csv"},
	} {
		code, _, errs := run(t, append([]string{"map", "--field", "field.geojson", "--only", "Corner block", "--out", out, "--quiet"}, args...)...)
		require.Zero(t, code, errs)
	}
	compared := func(args ...string) (int, string) {
		code, _, errs := run(t, append([]string{"compare", "older", "newest", "--out", "change", "--quiet"}, args...)...)
		return code, errs
	}
	put(t, "levels.csv", "field,treat_at\nCorner block,90\n")
	code, errs := compared()
	assert.Equal(t, 1, code)
	assert.Contains(t, errs, "levels.csv has changed since it was mapped\nhint: run map again, or give --fields levels.csv to go by it as it is now")
	code, errs = compared("--fields", "levels.csv")
	assert.Zero(t, code, errs)
	put(t, "levels.csv", "field,treat_at\nCorner block,20\n")
	require.NoError(t, os.WriteFile("field.geojson", shrunk(t, boundary), 0o600))
	code, errs = compared()
	assert.Equal(t, 1, code)
	assert.Contains(t, errs, "field.geojson has changed since it was mapped\nhint: run map again, or give --field field.geojson to go by it as it is now")
	code, errs = compared("--field", "field.geojson")
	assert.Zero(t, code, errs)
}

// A treatment of another year than the visits is not told of as if it were of theirs.
func TestATreatmentFarFromTheVisitsIsRefused(t *testing.T) {
	inFolder(t)
	for day, says := range map[string]string{
		"2036-07-17": "the treatment of 2036-07-17 is 3655 days after the last count, of 2026-07-15: is the year right?",
		"2026-11-13": "the treatment of 2026-11-13 is 121 days after the last count, of 2026-07-15: is the year right?",
		"2026-03-09": "the treatment of 2026-03-09 is 121 days before the first count, of 2026-07-08: is the year right?",
		"2026-03-10": "",
	} {
		code, _, errs := run(t, "compare", "week1.csv", "week2.csv", "--field", "field.geojson", "--only", "Corner block", "--out", "change", "--treated", "field.geojson", "--treated-on", day)
		assert.Equal(t, says != "", code != 0, errs)
		assert.Contains(t, errs, says)
	}
}

// What was counted in one field says nothing of another on that day.
func TestAFieldThatTheLastVisitLeftOut(t *testing.T) {
	inFolder(t)
	text, err := os.ReadFile("week3.csv")
	require.NoError(t, err)
	var later []string
	for _, line := range strings.SplitAfter(string(text), "\n") {
		if name, _, _ := strings.Cut(line, ","); name == "stop" || len(name) == 2 && name >= "48" && name != "50" {
			later = append(later, strings.ReplaceAll(line, "2026-07-22", "2026-08-30"))
		}
	}
	require.NoError(t, os.WriteFile("later.csv", []byte(strings.Join(later, "")), 0o600))
	code, out, errs := run(t, "compare", "week1.csv", "week2.csv", "later.csv", "--field", "field.geojson", "--out", "change")
	require.Zero(t, code, errs)
	pivot, corner, _ := strings.Cut(out, "Corner block")
	assert.Contains(t, strings.Join(strings.Fields(pivot), " "), "Count again: the last count is of Wednesday 15 July, and its map was good until Wednesday 22 July. Other fields were counted on Sunday 30 August.")
	assert.NotContains(t, pivot, "Spray the")
	assert.NotContains(t, corner, "last count is of")
}
