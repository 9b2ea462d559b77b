package assess_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/geometry/boundary"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// A stop with the place of the one above may be of the field that the walk went on in, too; rows
// read, used and set aside add up, and where one field alone is asked for it has its own.
func TestAStopOutOfPlaceIsOfTheFieldsBesideIt(t *testing.T) {
	c, err := geofile.Decode("f.geojson", strings.NewReader(`{"type":"FeatureCollection","features":[
		{"type":"Feature","properties":{"name":"A"},"geometry":{"type":"Polygon","coordinates":[[[0,0],[0.003,0],[0.003,0.003],[0,0.003],[0,0]]]}},
		{"type":"Feature","properties":{"name":"B"},"geometry":{"type":"Polygon","coordinates":[[[0.01,0],[0.013,0],[0.013,0.003],[0.01,0.003],[0.01,0]]]}}]}`), geofile.Limits{})
	require.NoError(t, err)
	fields, _, err := boundary.Fields(c.Features, boundary.Settings{})
	require.NoError(t, err)
	for copied, want := range map[int][2][]float64{ // shares of the fields by the number of the stop
		4:  {{1}, nil},          // in the middle of A
		12: {{0.5}, {0.5}},      // the last of A, before B
		13: {{0.5}, {0.5}},      // the first of B, with the place of the last of A
		24: {nil, {1}},          // the last of all
		0:  {nil, nil},          // none
		17: {nil, []float64{1}}, // in the middle of B
	} {
		var rows []string
		at := ""
		for i := 1; i <= 24; i++ {
			k, x := i-1, 0.0
			if i > 12 {
				k, x = i-13, 0.01
			}
			if i != copied {
				at = fmt.Sprintf("%.6f,%.6f", x+0.000501+0.0006*float64(k%4), 0.000501+0.0009*float64(k/4))
			}
			rows = append(rows, fmt.Sprintf("%d,%s,%d,10", i, at, i))
		}
		s, err := survey.Read([]geofile.Source{{Name: "a.csv", Content: []byte("stop,longitude,latitude,count,leaves\n" + strings.Join(rows, "\n"))}}, survey.Options{})
		require.NoError(t, err)
		for _, only := range [][]string{nil, {"A"}} {
			r, err := assess.Run(t.Context(), fields, s, assess.Settings{Cell: 20, Only: only})
			require.NoError(t, err)
			for i, f := range r.Fields {
				var shares []float64
				for _, u := range f.Unread {
					shares = append(shares, u.Share)
					assert.Equal(t, fmt.Sprint(copied-1), u.PlaceOf)
					assert.Equal(t, fmt.Sprint(copied), u.Rows[0].Row.Stop)
					assert.True(t, u.Own && u.Rows[0].Counted() && !u.Placed)
					assert.Equal(t, u.Share < 1, u.Loose)
				}
				assert.Equal(t, want[i], shares, "stop %d copied, field %s", copied, f.Name)
			}
			tally := r.Tally()
			assert.Equal(t, tally.Read, tally.Used+tally.SetAside)
			lost := 1
			if want[0] == nil && (only != nil || copied == 0) {
				lost = 0
			}
			assert.Equal(t, lost, tally.SetAside, "stop %d copied, only %v", copied, only)
			assert.Len(t, r.Survey.Problems, lost)
		}
	}
}
