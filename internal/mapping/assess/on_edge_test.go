//go:build !small

package assess_test

import (
	"fmt"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/scouting/survey"
	"github.com/geocoris/geocoris/internal/testkit/given"
)

// A hot stop on the edge of two fields counts for one and is known to the other, up to 5 m
// from it, whichever of the two comes first, also where only the other is asked for. A degree
// of longitude at the equator is 111,319.5 m (WGS 84).
func TestAStopOnTheEdgeIsKnownToBothFields(t *testing.T) {
	const metre = 1 / 111319.5
	box := func(name string, west, east float64) geo.Field {
		return geo.Field{Name: name, Boundary: geo.Wind(orb.MultiPolygon{{{{west, 0}, {east, 0}, {east, 0.004}, {west, 0.004}, {west, 0}}}})}
	}
	west, east := box("West", 10, 10.004), box("East", 10.004, 10.008)
	rows := "stop,longitude,latitude,count,leaves\n"
	for i := range 16 {
		rows += fmt.Sprintf("%d,%.7f,%.7f,5,10\n", i, 10+(float64(i%4)+0.5)*0.002, (float64(i/4)+0.5)*0.001)
	}
	for i, s := range []struct {
		name          string
		metres, total float64
	}{{"on it", 0, 900}, {"in the west", -4.9, 500}, {"in the east", 4.9, 400}, {"too far", -5.1, 900}, {"below", -1, 399}} {
		rows += fmt.Sprintf("%s,%.9f,%.4f,%g,10\n", s.name, 10.004+s.metres*metre, 0.0005+0.0008*float64(i), s.total)
	}
	for _, fields := range [][]geo.Field{{west, east}, {east, west}} {
		s, err := survey.Read(given.Table(rows), survey.Options{})
		require.NoError(t, err)
		r, err := assess.Run(t.Context(), fields, s, assess.Settings{})
		require.NoError(t, err)
		of := map[string]*assess.Field{}
		for _, f := range r.Fields {
			of[f.Name] = f
			for _, stop := range f.Stops {
				assert.Zero(t, stop.Outside, stop.Name)
			}
		}
		assert.Equal(t, 21, len(of["West"].Stops)+len(of["East"].Stops))
		highest := func(r *assess.Result, f *assess.Field) [2]any {
			one, stops := r.HotOnEdge(f, r.Statistic, 40)
			return [2]any{one, stops}
		}
		// the one on the edge counts for either field
		west, east := highest(r, of["West"]), highest(r, of["East"])
		inWest, inEast := assess.OnEdge{Stop: "in the west", Field: "West", Value: 50}, assess.OnEdge{Stop: "in the east", Field: "East", Value: 40}
		if east[1] == 1 {
			assert.Equal(t, [2]any{inWest, 1}, east)
			assert.Equal(t, [2]any{assess.OnEdge{Stop: "on it", Field: "East", Value: 90}, 2}, west)
		} else {
			assert.Equal(t, [2]any{inEast, 1}, west)
			assert.Equal(t, [2]any{assess.OnEdge{Stop: "on it", Field: "West", Value: 90}, 2}, east)
		}

		asked, err := assess.Run(t.Context(), fields, s, assess.Settings{Only: []string{"East"}})
		require.NoError(t, err)
		assert.Equal(t, east, highest(asked, asked.Fields[0]))
	}
}
