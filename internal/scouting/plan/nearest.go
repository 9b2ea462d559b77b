package plan

import (
	"math"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/internal/geometry/nearby"
)

// inCells are places in cells about as wide as they stand apart.
func (g *ground) inCells(places []orb.Point) *nearby.Cells {
	at := make([][2]float64, len(places))
	for i, p := range places {
		at[i] = p
	}
	return nearby.Of(at, g.cell*math.Sqrt(float64(len(g.cells))/float64(len(places))))
}

func apartSquared(a, b orb.Point) float64 {
	dx, dy := a[0]-b[0], a[1]-b[1]
	return float64(dx*dx) + float64(dy*dy)
}
