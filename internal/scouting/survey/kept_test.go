package survey_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// Worked by hand: of six rows the second, fourth and sixth are of the pest asked for.
func TestRowsOfThePestAskedForAreKept(t *testing.T) {
	s := read(t, "stop,longitude,latitude,count,pest\nA,1,2,1,thrips\nA,1,2,2,aphid\nB,1,3,4,thrips\nB,1,3,8,Aphid\nC,1,4,16,thrips\nC,1,4,32,aphid\n", survey.Options{Pest: "aphid"})
	assert.Equal(t, survey.Tally{Read: 6, Used: 3, OtherPest: 3}, s.Tally)
	require.Len(t, s.Stops, 3)
	for i, want := range []struct {
		name  string
		total float64
		line  int
	}{{"A", 2, 3}, {"B", 8, 5}, {"C", 32, 7}} {
		stop := s.Stops[i]
		require.Len(t, stop.Records, 1)
		assert.Equal(t, want.name, stop.Name)
		assert.Equal(t, want.total, stop.Total)
		assert.Equal(t, want.line, stop.Records[0].Line)
	}
}

// Two of three stops stand alone, the last row's among them, so a row alike is a
// repeat; with one of two it is not.
func TestWhetherRowsStandAloneIsKnownByAll(t *testing.T) {
	const head = "stop,longitude,latitude,count\nA,1,2,3\nA,1,2,3\nB,1,3,3\n"
	assert.Equal(t, 1, read(t, head+"C,1,4,3\n", survey.Options{}).Tally.SetAside)
	assert.Zero(t, read(t, head, survey.Options{}).Tally.SetAside)
}

// Metres from the southernmost row, east and north, at 50° N: it founds the place,
// the row 20, 5 is within 30 m of it, the row 35, 1 only of the other, so a place
// of its own. Degrees by 111.2 km to one of latitude on the sphere of 6371 km.
func TestThePlaceIsFoundedFromTheSouth(t *testing.T) {
	s := read(t, "stop,longitude,latitude,count\nA,10.00028,50.000045,1\nA,10,50,2\nA,10.000489,50.000009,4\n", survey.Options{})
	require.Len(t, s.Stops, 2)
	assert.Equal(t, []float64{3, 4}, []float64{s.Stops[0].Total, s.Stops[1].Total})
}
