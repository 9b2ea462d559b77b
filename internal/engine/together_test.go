package engine_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/engine"
	"github.com/geocoris/geocoris/internal/mapping/verdict"
)

// The walk that a map asks for, planned and typed in without its kind, is asked for once:
// the next map knows it, says so, and marks it.
func TestAPlannedWalkRoundIsKnownAsTyped(t *testing.T) {
	for _, found := range []string{"20", "900"} {
		boundary, counts := lattice(10, 900)
		setup := engine.Setup{Settings: engine.Defaults()}
		made, err := engine.Map(t.Context(), engine.MapRequest{Setup: setup, Samples: []engine.Source{counts}, Boundary: boundary})
		require.NoError(t, err)
		require.Equal(t, []string{"10"}, made.Verdicts[0].Round)
		q := walkOf("Field")
		q.Boundary, q.Add = boundary, made.Verdicts[0].More
		q.After = &engine.PlanAfter{
			Name:    "out",
			Summary: engine.Source{Name: "summary.json", Content: content(t, made.Files, "summary.json")},
			Stops:   engine.Source{Name: "stops.geojson", Content: content(t, made.Files, "stops.geojson")},
		}
		walk, err := engine.Plan(q)
		require.NoError(t, err)
		var rows []string
		for i, s := range walk.Plan.Stops {
			rows = append(rows, fmt.Sprintf("%s,%.9f,%.9f,%s,10,2026-07-15,", s.Name, s.Lonlat[0]+float64(i-1)*3/metresPerDegree, s.Lonlat[1], found))
		}
		boundary, counts = lattice(10, 900, rows...)
		made, err = engine.Map(t.Context(), engine.MapRequest{Setup: setup, Samples: []engine.Source{counts}, Boundary: boundary})
		require.NoError(t, err)
		v := made.Verdicts[0]
		assert.NotEqual(t, verdict.Undecided, v.Kind, v.Line)
		assert.Empty(t, v.Round)
		assert.Equal(t, 24, v.Stats.Stops)
		said := strings.Join(made.Result.Notes, "\n")
		assert.Contains(t, said, `field "Field": 4 more stops within 50 m of stop 10, which is at or over the spray level, are taken as a walk round it and are not in the mean`)
		assert.NotContains(t, said, "extra stops")
		assert.Equal(t, 4, strings.Count(string(content(t, made.Files, "stops.geojson")), `"kind": "extra"`)+strings.Count(string(content(t, made.Files, "stops.geojson")), `"kind":"extra"`))
	}
}

// A crowd is told apart from stops that were marked.
func TestNotesTellCrowdsFromMarkedStops(t *testing.T) {
	var rows []string
	for i := range 6 {
		rows = append(rows, fmt.Sprintf("C%d,%.9f,%.9f,20,10,2026-07-15,", i, (150+float64(i))/metresPerDegree, 250/metresPerDegree))
	}
	rows = append(rows, fmt.Sprintf("X,%.9f,%.9f,20,10,2026-07-15,extra", 300/metresPerDegree, 300/metresPerDegree))
	boundary, counts := lattice(0, 0, rows...)
	made, err := engine.Map(t.Context(), engine.MapRequest{Setup: engine.Setup{Settings: engine.Defaults()}, Samples: []engine.Source{counts}, Boundary: boundary})
	require.NoError(t, err)
	said := strings.Join(made.Result.Notes, "\n")
	assert.Contains(t, said, `field "Field": 1 extra stop is not in the mean`)
	assert.Regexp(t, `field "Field": 6 more stops within \d m of stop \w+, where places lie about 99 m apart, count for one place with it and are not in the mean`, said)
	assert.Equal(t, 24, made.Verdicts[0].Stats.Stops)
}
