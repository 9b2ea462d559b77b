package survey_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

func TestAPlaceIsFoundWithItsAccentAsOneSignOrTwo(t *testing.T) {
	places, err := survey.ReadPlaces(geofile.Source{Name: "p.csv", Content: []byte("stop,longitude,latitude\nMu\u0308hle,-101,35\n")})
	require.NoError(t, err)
	s, err := survey.Read([]geofile.Source{{Name: "c.csv", Content: []byte("stop,count\nM\u00dcHLE,3\n")}}, survey.Options{Places: places})
	require.NoError(t, err)
	assert.Len(t, s.Stops, 1)
}
