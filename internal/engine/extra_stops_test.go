package engine_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/engine"
)

// A tally of a table goes by its planned stops, as the map's mean does.
func TestATallyLeavesOutExtraStops(t *testing.T) {
	var b strings.Builder
	b.WriteString("stop,longitude,latitude,count,leaves,kind\n")
	b.WriteString("a,-101.60,35.90,10,10,\nb,-101.61,35.90,900,10,extra\nc,-101.62,35.90,10,10,\n")
	o := engine.TallyDefaults()
	o.Counts, o.Low, o.High = "poisson", 1, 9
	made, err := engine.TallyCounts(t.Context(), engine.TallyCountsRequest{TallySettings: o, Counts: engine.Source{Name: "s.csv", Content: []byte(b.String())}, Apart: 20})
	require.NoError(t, err)
	require.Len(t, made.Answers, 2)
	assert.Equal(t, 20.0, made.Answers[1].Total)
	assert.Contains(t, made.Notes, "1 extra stop is not in the mean")
}
