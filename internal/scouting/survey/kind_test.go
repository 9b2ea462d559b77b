package survey_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// A stop is extra where one of its rows says so, and planned where nothing does.
func TestKindOfStop(t *testing.T) {
	s := read(t, "stop,longitude,latitude,count,kind\nA,1,2,3,planned\nB,1.1,2,4,Extra\nC,1.2,2,5,\nC,1.2,2,6,extra\nD,1.3,2,1,\n", survey.Options{})
	require.Len(t, s.Stops, 4)
	var extra []bool
	for _, stop := range s.Stops {
		extra = append(extra, stop.Extra)
	}
	assert.Equal(t, []bool{false, true, true, false}, extra)
	assert.Empty(t, s.Problems)
}
