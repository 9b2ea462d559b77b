package check_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/mapping/check"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// The mean of check is that of map: of the stops but the extra ones.
func TestTheMeanLeavesOutExtraStops(t *testing.T) {
	text := "stop,longitude,latitude,count,leaves,kind\na,-101.6000,35.9,10,10,\nb,-101.6010,35.9,30,10,\nc,-101.6011,35.9,900,10,extra\n"
	s, err := survey.Read([]geofile.Source{{Name: "s.csv", Content: []byte(text)}}, survey.Options{})
	require.NoError(t, err)
	r, err := check.Run(s, nil)
	require.NoError(t, err)
	require.Len(t, r.Observers, 1)
	assert.Equal(t, 3, r.Observers[0].Stops)
	assert.Equal(t, 2.0, r.Observers[0].Mean)
}
