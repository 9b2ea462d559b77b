package plan

import (
	"math"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/internal/geometry/nearby"
)

// nearest finds which of many places is nearest to a cell of the ground.
type nearest struct {
	places []orb.Point
	cells  *nearby.Cells
}

func (g *ground) nearest(places []orb.Point) nearest {
	at := make([][2]float64, len(places))
	for i, p := range places {
		at[i] = p
	}
	apart := g.cell * math.Sqrt(float64(len(g.cells))/float64(len(places)+1))
	return nearest{places, nearby.Of(at, apart)}
}

// of is the number of the place nearest to c, the first of several, and how far it is,
// squared; −1 and +Inf of none. No place is looked at that is farther than all of some
// guesses, which may be −1.
func (n nearest) of(c orb.Point, guesses ...int) (number int, squared float64) {
	number, squared = -1, math.Inf(1)
	look := func(i int) {
		dx, dy := c[0]-n.places[i][0], c[1]-n.places[i][1]
		if d := float64(dx*dx) + float64(dy*dy); d < squared || d == squared && i < number {
			number, squared = i, d
		}
	}
	for _, i := range guesses {
		if i >= 0 {
			look(i)
		}
	}
	for i := range n.cells.Near(c[0], c[1], math.Sqrt(squared)) {
		look(i)
	}
	return number, squared
}
