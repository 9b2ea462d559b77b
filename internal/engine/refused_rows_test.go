package engine_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/engine"
)

// Where every row was refused, the reasons of the rows are given, and no column is said
// to be missing that is there.
func TestRowsThatAreAllRefusedTellWhy(t *testing.T) {
	q := morning(t, "week2")
	q.Settings.Rule, q.Settings.Stage = "sorghum-aphid-kansas", "boot"
	q.Samples = []engine.Source{{Name: "bad.csv", Content: []byte("stop,longitude,latitude,plants,plants_over\na,-101.6,35.9,10,11\nb,-101.601,35.9,10,12\n")}}
	_, err := engine.Map(t.Context(), q)
	require.Error(t, err)
	assert.NotContains(t, err.Error(), "lack")
	var none engine.NothingUsable
	require.ErrorAs(t, err, &none)
	assert.Contains(t, strings.Join(none.Lines(), "\n"), "bad.csv:2")
}

// Rows that were set aside are counted over all visits, whichever is the last.
func TestRowsSetAsideAreThoseOfAllVisits(t *testing.T) {
	bad := source(t, "week2.csv")
	bad.Content = append(append([]byte(nil), bad.Content...), "no number,-101.6,35.9,many\n"...)
	setAside := func(counts ...engine.Source) int {
		field := source(t, "field.geojson")
		q := engine.CompareRequest{Setup: morning(t, "week1").Setup, Compare: engine.CompareDefaults(), Boundary: &field}
		for _, c := range counts {
			q.Weeks = append(q.Weeks, engine.Week{Counts: c})
		}
		made, err := engine.Compare(t.Context(), q)
		require.NoError(t, err)
		return made.SetAside
	}
	assert.Equal(t, 1, setAside(bad, source(t, "week1.csv")))
	assert.Equal(t, 1, setAside(source(t, "week1.csv"), bad))
}
