package roster_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/scouting/roster"
	_ "github.com/geocoris/geocoris/internal/testkit" // knows -fields
)

// A boundary may write an accent as a sign of its own, and the list may not.
func TestAnAccentIsOneSignOrTwo(t *testing.T) {
	list, err := roster.Read(geofile.Source{Name: "f.csv", Content: []byte("field,treat_at\nM\u00fcller,10\n")}, "")
	require.NoError(t, err)
	e, ok := list.Of("mu\u0308LLER")
	require.True(t, ok)
	assert.InDelta(t, 10, e.TreatAt, 0)
	notes, err := list.Compare([]string{"Mu\u0308ller"})
	require.NoError(t, err)
	assert.Empty(t, notes)
	_, ok = list.Of("Muller")
	assert.False(t, ok, "another name")
}
