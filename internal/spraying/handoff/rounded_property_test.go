package handoff_test

import (
	"errors"
	"math"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/spraying/handoff"
	"github.com/geocoris/geocoris/internal/spraying/spray"
	"github.com/geocoris/geocoris/internal/testkit"
)

// roundOutline is a round outline in degrees, of places some metres apart as maps draw them,
// with so many decimals.
func roundOutline(frame geo.Frame, radius, decimals float64) (ring orb.Ring) {
	unit := math.Pow(10, decimals)
	const places = 240
	for k := range places {
		a := 2 * math.Pi * float64(k) / places
		p := frame.Inverse(orb.Point{radius * math.Cos(a), radius * math.Sin(a)})
		ring = append(ring, orb.Point{math.Round(p[0]*unit) / unit, math.Round(p[1]*unit) / unit})
	}
	return append(ring, ring[0])
}

// Zones may be saved with few decimals, which leaves vertices twice: 5 decimals are a metre,
// 3 a hundred. What is then sprayed is what is drawn.
func TestZonesOfFewDecimalsAreSprayed(t *testing.T) {
	frame, err := geo.FrameOf(orb.MultiPolygon{box(-101.6, 35.9, -101.59, 35.91)})
	require.NoError(t, err)
	testkit.Property(t, func(rt *rapid.T) {
		decimals := float64(rapid.IntRange(3, 6).Draw(rt, "decimals"))
		red := roundOutline(frame, rapid.Float64Range(20, 200).Draw(rt, "m across"), decimals)
		field := roundOutline(frame, 400, decimals)
		zone := func(name string, polygon orb.Polygon) geo.Feature {
			return geo.Feature{Geometry: polygon, Properties: geo.Properties{{Name: "zone", Value: name}, {Name: "field", Value: "Pivot"}}}
		}
		set := settings()
		set.Margin = spray.Margin{StopError: rapid.SampledFrom([]float64{0, 5}).Draw(rt, "margin")}
		r, err := handoff.Run([]geo.Feature{zone("treat", orb.Polygon{red}), zone("clear", orb.Polygon{field, red})}, set)
		if none := new(handoff.NoJobError); decimals == 3 && errors.As(err, &none) {
			return // of a small patch no ground is left
		}
		require.NoError(rt, err)
		drawn := geo.Area(r.Jobs[0].Frame.ForwardPolygons(orb.MultiPolygon{{red}}))
		require.InDelta(rt, drawn, r.Jobs[0].Ground.Treat, 1e-6*drawn+0.01)
	})
}
