package engine_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/engine"
)

// The newest visit to whatever field is that of the season, also where one field alone is shown.
func TestOneFieldOfASeasonIsBehindTheOthers(t *testing.T) {
	var m memory
	for _, week := range []string{"week1", "week2", "week3"} {
		q := m.add(t, week)
		if week == "week3" { // in the smaller field alone, some weeks later
			var rows []string
			for _, row := range strings.SplitAfter(string(q.Visit.Samples[0].Content), "\n") {
				if name, _, _ := strings.Cut(row, ","); name == "stop" || len(name) == 2 && name >= "48" && name != "50" {
					rows = append(rows, strings.ReplaceAll(row, "2026-07-22", "2026-08-30"))
				}
			}
			q.Visit.Samples[0].Content = []byte(strings.Join(rows, ""))
		}
		_, err := engine.AddToSeason(t.Context(), q)
		require.NoError(t, err)
	}
	alone, err := engine.Narrowed(&m, "Pivot")
	require.NoError(t, err)
	w, _, err := engine.Adopted([]engine.Week{{Season: alone}})
	require.NoError(t, err)
	made, err := engine.Compare(t.Context(), engine.CompareRequest{Setup: w, Compare: engine.CompareDefaults(), Weeks: []engine.Week{{Season: alone, File: engine.Source{Name: "season.gpkg"}}}})
	require.NoError(t, err)
	pivot := made.Result.Fields[0]
	require.Equal(t, "Pivot", pivot.Name)
	assert.Equal(t, "2026-08-30", pivot.Behind)
	assert.True(t, pivot.CountAgain())
}
