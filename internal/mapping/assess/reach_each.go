package assess

import (
	"math"
	"slices"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/internal/geometry/nearby"
	"github.com/geocoris/geocoris/internal/scouting/layout"
	"github.com/geocoris/geocoris/interp"
)

// nearSpacings is how many spacings of as many even stops the stops round one lie within:
// some 32 on an even walk. Within 3 the ends of a W of 60 stops are lines by themselves, and
// clean fields are walked again; from 3.3 on a stop far off a line tells of all of it. Our
// choice, by simulation (SIMULATIONS.md).
const nearSpacings = 3.2

// mostEach is up to how many stops each has a reach of its own: nobody walks more along one
// line, and among so many each would be compared with most others.
const mostEach = 500

// reaches are how far each of the stops reaches, no farther than all of them: as far as
// those round it stand apart, over no more ground than they span. So one stop off a line
// does not make those at its other end see farther.
func reaches(area, reach float64, stops []Stop, together []Together) []float64 {
	at := spreadPlaces(stops, together)
	even := math.Sqrt(area / float64(len(at)))
	out := make([]float64, len(stops))
	for i := range out {
		out[i] = reach
	}
	if len(stops) > mostEach {
		return out
	}
	cells := nearby.Of(at, even)
	for i := range stops {
		xy, apart := stops[i].XY, even
		var near []orb.Point
		for k := range cells.Near(xy[0], xy[1], nearSpacings*even) {
			if math.Hypot(at[k][0]-xy[0], at[k][1]-xy[1]) <= nearSpacings*even {
				near = append(near, at[k])
			}
		}
		if len(near) > 1 {
			apart = min(even, standing(near))
		}
		out[i] = min(reach, max(leastReach, reachSpacings*apart))
	}
	return out
}

// spreadPlaces are the places of planned stops. Where those taken for crowds are more than
// these, as on a close walk along a road, they stand as they were walked.
func spreadPlaces(stops []Stop, together []Together) [][2]float64 {
	counts := make([]bool, len(stops))
	for i, s := range stops {
		counts[i] = !s.Extra
	}
	var crowded []int
	for _, t := range together {
		if !t.Round {
			crowded = append(crowded, t.Others...)
		}
	}
	alone := 0
	for _, c := range counts {
		if c {
			alone++
		}
	}
	for _, i := range crowded {
		counts[i] = counts[i] || len(crowded) > alone
	}
	var all [][2]float64
	for i, s := range stops {
		if counts[i] || alone == 0 {
			all = append(all, s.XY)
		}
	}
	of, _ := layout.Places(all)
	var at [][2]float64
	for i, p := range all {
		if of[i] == i {
			at = append(at, p)
		}
	}
	return at
}

// reached lengthens distances to the nearest stop, on ground within reach, so that one
// distance parts what stops of different reach have seen: each as many times as the stop
// reaches less far. Where nodes and those next to them are within reach of whatever stop, they
// stay as they are.
func reached(distance interp.Grid, stops []Stop, near []float64, reach float64) {
	least := slices.Min(near)
	if least == reach {
		return
	}
	sure := least - math.Sqrt2*distance.Cell
	at := make([][2]float64, len(stops))
	for i := range stops {
		at[i] = stops[i].XY
	}
	cells := nearby.Of(at, reach)
	for row := range distance.Rows {
		for col := range distance.Cols {
			node := &distance.Values[row*distance.Cols+col]
			if !(*node <= reach) || *node <= sure {
				continue
			}
			x, y := distance.Node(col, row)
			longer := math.Inf(1)
			for i := range cells.Near(x, y, reach) {
				dx, dy := x-at[i][0], y-at[i][1]
				longer = min(longer, math.Sqrt(float64(dx*dx)+float64(dy*dy))*(reach/near[i]))
			}
			*node = max(*node, longer)
		}
	}
}
