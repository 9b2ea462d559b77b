package plan

import (
	"math"
	"slices"

	"github.com/paulmach/orb"
)

// fill are n places on the ground that lies farthest from stops, whatever was counted at
// these: each begins on the ground that is farthest from all before it (Gonzalez 1985,
// Theor. Comput. Sci. 38:293–306) and moves into the middle of the ground that no stop
// is nearer to, as [ground.kmeans] has it.
func (g *ground) fill(stops []orb.Point, n int) []orb.Point {
	centres := slices.Clone(stops)
	far := make([]float64, len(g.cells))
	for i, c := range g.cells {
		far[i] = math.Inf(1)
		for _, s := range stops {
			far[i] = min(far[i], apartSquared(c, s))
		}
	}
	for range n {
		at := 0
		for i := range far {
			if far[i] > far[at] {
				at = i
			}
		}
		next := g.cells[at]
		centres = append(centres, next)
		for i, c := range g.cells {
			far[i] = min(far[i], apartSquared(c, next))
		}
	}
	g.settleCentres(centres, len(stops))
	return g.settleOn(centres[len(stops):])
}
