package survey_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/scouting/survey"
)

func TestBounds(t *testing.T) {
	s := read(t, "stop,longitude,latitude,count,leaves\nexact,1,2,7,3\nexact,1,2,0.0,1\nclass,1,3,11-50,2\nclass,1,3,9,2\nopen,1,4,50+,1\nfrom 0,1,5,<10,1\n", survey.Options{})
	require.Len(t, s.Stops, 4)
	for i, want := range [][2]float64{{7.0 / 4, 7.0 / 4}, {20.0 / 4, 59.0 / 4}, {50, 100}, {0, 9}} {
		stop := s.Stops[i]
		before := stop.Mean()
		low, high := stop.Bounds()
		assert.Equal(t, want, [2]float64{low, high}, stop.Name)
		assert.Equal(t, before, stop.Mean(), "what was given stays")
		assert.LessOrEqual(t, low, before)
		assert.GreaterOrEqual(t, high, before)
	}
	most := s.Stops[1].Most()
	assert.Equal(t, 50.0, most.Records[0].Total)
	assert.NotEqual(t, 50.0, s.Stops[1].Records[0].Total, "the rows are copies")
}
