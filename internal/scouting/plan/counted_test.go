package plan_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/scouting/plan"
	"github.com/geocoris/geocoris/internal/testkit"
)

// nearest is how far a place is from the nearest of others.
func nearest(p orb.Point, others []orb.Point) float64 {
	least := math.Inf(1)
	for _, q := range others {
		least = min(least, math.Hypot(p[0]-q[0], p[1]-q[1]))
	}
	return least
}

// What is left of a walk round a hot stop stands as far from it as the rest, leaves no half
// of it out, and goes nowhere where somebody counted: none, some or all of the first walk.
func TestTheRestOfAWalkRound(t *testing.T) {
	frame, err := geo.NewFrame(orb.Point{-100, 37})
	require.NoError(t, err)
	xy := orb.MultiPolygon{{orb.Ring{{-250, -250}, {250, -250}, {250, 250}, {-250, 250}, {-250, -250}}}}
	field := geo.Field{Name: "square", Boundary: frame.InversePolygons(xy)}
	known := plan.Known{Levels: []float64{40}}
	var grid []orb.Point
	for i := range 25 {
		p := orb.Point{100 * float64(i%5-2), 100 * float64(i/5-2)}
		grid = append(grid, p)
		known.Stops = append(known.Stops, plan.Counted{Lonlat: frame.Inverse(p), Mean: 1, Units: 10})
	}
	for _, hot := range []int{12, 4, 10} { // within, in a corner, at an edge
		known.Round = []orb.Point{known.Stops[hot].Lonlat}
		first, err := plan.After(field, plan.Settings{Stops: 4}, known)
		require.NoError(t, err)
		for walked := range 5 {
			name := fmt.Sprintf("stop %d, %d walked", hot, walked)
			counted, round := slices.Clone(grid), []orb.Point{}
			again := known
			again.Stops = slices.Clone(known.Stops)
			for _, s := range first.Stops[:walked] {
				again.Stops = append(again.Stops, plan.Counted{Lonlat: s.Lonlat, Units: 10, Extra: true})
				round = append(round, frame.Forward(s.Lonlat))
			}
			counted = append(counted, round...)
			p, err := plan.After(field, plan.Settings{Stops: max(4-walked, 1)}, again)
			require.NoError(t, err)
			for _, s := range p.Stops {
				at := frame.Forward(s.Lonlat)
				assert.Greater(t, nearest(at, counted), 15.0, name)
				if hot == 12 {
					assert.InDelta(t, 50, math.Hypot(at[0], at[1]), 1, name)
				}
				counted, round = append(counted, at), append(round, at)
			}
			if hot == 12 {
				for k := range 16 {
					way := orb.Point{50 * math.Cos(float64(k)*math.Pi/8), 50 * math.Sin(float64(k)*math.Pi/8)}
					assert.Less(t, nearest(way, round), 2*50*math.Sin(math.Pi/4)+1, "%s: %g°", name, 22.5*float64(k))
				}
			}
		}
	}
}

// No further stop is planned where somebody counted, however little of it is known by
// counting one leaf.
func TestFurtherStopsStandWhereNobodyCounted(t *testing.T) {
	frame, err := geo.NewFrame(orb.Point{-100, 37})
	require.NoError(t, err)
	xy := orb.MultiPolygon{{orb.Ring{{-40, -40}, {40, -40}, {40, 40}, {-40, 40}, {-40, -40}}}}
	field := geo.Field{Name: "plot", Boundary: frame.InversePolygons(xy)}
	r := rand.New(rand.NewPCG(4, 4))
	for range testkit.Few(12, 3) {
		known := plan.Known{Levels: []float64{20}}
		var counted []orb.Point
		for range 60 {
			p := orb.Point{-32 + 64*r.Float64(), -32 + 64*r.Float64()}
			counted = append(counted, p)
			known.Stops = append(known.Stops, plan.Counted{Lonlat: frame.Inverse(p), Mean: math.Round(20 * r.ExpFloat64()), Units: 1})
		}
		p, err := plan.After(field, plan.Settings{Stops: 12}, known)
		require.NoError(t, err)
		for _, s := range p.Stops {
			assert.Greater(t, nearest(frame.Forward(s.Lonlat), counted), 4.9)
		}
	}
}
