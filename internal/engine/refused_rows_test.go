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
