package cli_test

import (
	"encoding/json"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// boundsOf are what the stops of a folder stand for, by their names.
func boundsOf(t *testing.T, folder string) map[string][3]float64 {
	t.Helper()
	var all struct {
		Features []struct {
			Properties struct {
				Stop             string
				Value, Low, High float64
			}
		}
	}
	require.NoError(t, json.Unmarshal([]byte(contents(t, folder)["stops.geojson"]), &all))
	out := map[string][3]float64{}
	for _, f := range all.Features {
		out[f.Properties.Stop] = [3]float64{f.Properties.Value, f.Properties.Low, f.Properties.High}
	}
	return out
}

// Of what map wrote its stops are counts, those of classes too, and its zones are none.
func TestTheFilesOfAMapAsCounts(t *testing.T) {
	inFolder(t)
	counts, err := os.ReadFile("week2.csv")
	require.NoError(t, err)
	lines := strings.Split(string(counts), "\n")
	for i, line := range lines[1:] {
		cells := strings.Split(line, ",")
		if i%3 == 0 && len(cells) > 3 {
			cells[3] = map[bool]string{true: "11-50", false: "500+"}[len(cells[3]) < 3]
			lines[i+1] = strings.Join(cells, ",")
		}
	}
	lines = append(lines[:len(lines)-1], lines[1]) // one stop of two rows
	lines[len(lines)-1] = strings.Replace(lines[len(lines)-1], "11-50", "3", 1)
	require.NoError(t, os.WriteFile("classes.csv", []byte(strings.Join(lines, "\n")+"\n"), 0o600))
	code, want, errs := run(t, "map", "classes.csv", "--field", "field.geojson", "--out", "out", "--write", "zones.gpkg")
	require.Zero(t, code, errs)
	code, got, errs := run(t, "map", "out/stops.geojson", "--field", "field.geojson", "--out", "again")
	require.Zero(t, code, errs)
	answer := func(screen string) string { before, _, _ := strings.Cut(screen, "Look out"); return before }
	assert.Contains(t, want, "Spray")
	assert.NotContains(t, got, "not read")
	assert.Equal(t, answer(want), answer(got))
	stops := boundsOf(t, "out")
	assert.Equal(t, [3]float64{1.32, 0.7, 2.65}, stops["1"], "14 to 53 on 20 leaves, 26.45 in all")
	again := boundsOf(t, "again")
	for name, want := range stops {
		got := again[name]
		assert.InDeltaSlice(t, want[:], got[:], 0.011, name) // the count has two decimals
	}

	for _, name := range []string{"zones.kml", "zones.kmz", "zones.gpkg", "zones.geojson"} {
		code, _, errs := run(t, "map", "out/"+name, "--field", "field.geojson", "--out", "none")
		assert.Equal(t, 1, code, name)
		assert.Equal(t, "geocoris: "+name+": holds the zones of a map, not the counts\nhint: give the table of counts itself, or stops.geojson of the folder that map wrote\n", errs)
	}
}
