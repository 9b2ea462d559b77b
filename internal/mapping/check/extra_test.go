package check_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/geometry/boundary"
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

// Edge and inside are compared by the planned stops, and by the extra ones where there are
// no others.
func TestTheEdgeLeavesOutExtraStops(t *testing.T) {
	ground, err := geofile.Decode("f.geojson", strings.NewReader(`{"type":"Polygon","coordinates":[[[0,0],[0.01,0],[0.01,0.01],[0,0.01],[0,0]]]}`), geofile.Limits{})
	require.NoError(t, err)
	fields, _, err := boundary.Fields(ground.Features, boundary.Settings{})
	require.NoError(t, err)
	edge := func(kinds ...string) check.Edge {
		text := "stop,longitude,latitude,count,leaves,kind\n"
		for i, at := range []string{"0.0050,0.00003", "0.0050,0.0050", "0.0052,0.0050"} {
			text += fmt.Sprintf("%d,%s,%d,10,%s\n", i, at, []int{10, 20, 900}[i], kinds[i])
		}
		s, err := survey.Read([]geofile.Source{{Name: "s.csv", Content: []byte(text)}}, survey.Options{})
		require.NoError(t, err)
		r, err := check.Run(s, fields)
		require.NoError(t, err)
		require.Len(t, r.Edge, 1)
		return r.Edge[0]
	}
	some := edge("", "", "extra")
	assert.Equal(t, [4]float64{1, 1, 1, 2}, [4]float64{float64(some.Near), some.NearMean, float64(some.Inside), some.InMean})
	none := edge("extra", "extra", "extra")
	assert.Equal(t, [4]float64{1, 1, 2, 46}, [4]float64{float64(none.Near), none.NearMean, float64(none.Inside), none.InMean})
}
