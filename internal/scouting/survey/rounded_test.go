package survey_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// Places that were rounded to hundreds of metres are said to be.
func TestPlacesThatWereRoundedAreNamed(t *testing.T) {
	at := func(places ...string) *survey.Survey {
		text := "stop,longitude,latitude,count\n"
		for i, p := range places {
			text += fmt.Sprintf("%d,%s,%d\n", i+1, p, some(i))
		}
		s, err := survey.Read([]geofile.Source{{Name: "r.csv", Content: []byte(text)}}, survey.Options{})
		require.NoError(t, err)
		return s
	}
	s := at("-101.601,35.9", "-101.602,35.9", "-101.603,35.9", "-101.604,35.901", "-101.6,35.9")
	assert.Equal(t, []survey.Rough{{File: "r.csv", Decimals: 3, Off: 80}}, s.Rough)
	assert.Contains(t, s.Notes, "r.csv: places have 3 decimals of a degree, so a stop may lie 80 m off; give 5 or more")
	s = at("-101.6,35.9", "-101.61,35.9", "-101.62,35.9", "-101.63,35.91", "-101.64,35.9")
	assert.Equal(t, []survey.Rough{{File: "r.csv", Decimals: 2, Off: 800}}, s.Rough)
	for name, sure := range map[string]*survey.Survey{
		"one with more":   at("-101.601,35.9", "-101.602,35.9", "-101.603,35.9", "-101.604,35.9013", "-101.6,35.9"),
		"four rows":       at("-101.601,35.9", "-101.602,35.9", "-101.603,35.9", "-101.604,35.9"),
		"degrees, min, s": at(`101°36'4W,35°54'N`, `101°36'5W,35°54'N`, `101°36'6W,35°54'N`, `101°36'7W,35°54'N`, `101°36'8W,35°54'N`),
	} {
		assert.Empty(t, sure.Rough, name)
	}
}
