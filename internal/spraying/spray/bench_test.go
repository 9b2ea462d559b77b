package spray_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/spraying/spray"
)

// A wavy patch of 2,000 vertices, 1.6 km across, in a field of 400 ha with a
// creek through it; the heading searched.
func BenchmarkPlan(b *testing.B) {
	const n = 2000
	var ring orb.Ring
	for k := range n {
		a := 2 * math.Pi * float64(k) / n
		r := 700 + 60*math.Sin(17*a) + 30*math.Cos(53*a)
		ring = append(ring, orb.Point{r * math.Cos(a), r * math.Sin(a)})
	}
	creek := spray.KeepOff{Name: "creek", Geometry: orb.LineString{{-900, -50}, {0, 80}, {900, -20}}, SetBack: 20}
	zone := spray.Zone{Treat: orb.MultiPolygon{{append(ring, ring[0])}}, Field: box(-1000, -1000, 1000, 1000), KeepOffs: []spray.KeepOff{creek}, Margin: spray.Margin{StopError: 5}}
	for _, sections := range []int{1, 12, 72} {
		b.Run(fmt.Sprintf("sections=%d", sections), func(b *testing.B) {
			for b.Loop() {
				g, err := spray.NewTarget(zone)
				require.NoError(b, err)
				_, err = spray.NewPlan(g, spray.Settings{Swath: 36, Sections: sections})
				require.NoError(b, err)
			}
		})
	}
}
