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

// A field that ends at longitude 180, or so near that 15 m beside it lie beyond, has all
// its stops, and one just beyond is still its own.
func TestFieldsBesideLongitude180HaveAllStops(t *testing.T) {
	for _, side := range []float64{1, -1} {
		for _, off := range []float64{0, 0.0001, 0.0005} {
			edge := side * (180 - off)
			far := edge - side*0.004
			field := geo.Field{Name: "E", Boundary: geo.Wind(orb.MultiPolygon{{{{edge, -17.5}, {far, -17.5}, {far, -17.496}, {edge, -17.496}, {edge, -17.5}}}})}
			rows := "stop,longitude,latitude,count,leaves\n"
			for i := range 16 {
				rows += fmt.Sprintf("%d,%.7f,%.7f,5,10\n", i, edge-side*(float64(i%4)+0.5)*0.001, -17.5+(float64(i/4)+0.5)*0.001)
			}
			rows += fmt.Sprintf("beyond,%.7f,-17.498,5,10\n", wrapped(edge+side*0.00005)) // 5 m
			s, err := survey.Read(given.Table(rows), survey.Options{})
			require.NoError(t, err)
			r, err := assess.Run(t.Context(), []geo.Field{field}, s, assess.Settings{})
			require.NoError(t, err)
			assert.Empty(t, r.Away, "%v", edge)
			assert.Len(t, r.Fields[0].Stops, 17)
		}
	}
}

func wrapped(lon float64) float64 {
	switch {
	case lon > 180:
		return lon - 360
	case lon < -180:
		return lon + 360
	}
	return lon
}
