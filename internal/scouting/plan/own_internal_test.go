package plan

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
)

// Each cell goes to the centre that looking at all of them finds, the first of those as
// near: cells and centres on whole metres are often as near, and some centres share a place.
func TestCellsGoToTheirNearestCentre(t *testing.T) {
	rng := rand.New(rand.NewPCG(17, 18))
	for _, n := range []int{1, 2, 3, 20, 90} {
		place := func() orb.Point { return orb.Point{float64(rng.IntN(30)) - 15, float64(rng.IntN(20))} }
		g, centres := ground{}, []orb.Point{}
		for range 200 {
			g.cells = append(g.cells, place())
		}
		for range n {
			centres = append(centres, place())
		}
		want := make([]int, len(g.cells))
		for i, c := range g.cells {
			least := math.Inf(1)
			for k, p := range centres {
				if d := (c[0]-p[0])*(c[0]-p[0]) + (c[1]-p[1])*(c[1]-p[1]); d < least {
					want[i], least = k, d
				}
			}
		}
		owner := make([]int, len(g.cells))
		moved := g.own(centres, owner)
		assert.Equal(t, want, owner, "%d centres", n)
		assert.Equal(t, len(owner)-len(slices.DeleteFunc(slices.Clone(want), func(k int) bool { return k != 0 })), moved)
		assert.Zero(t, g.own(centres, owner), "nothing moves a second time")
	}
}

// A tour's legs stay those of its order, whatever was turned.
func TestLegsFollowTheTour(t *testing.T) {
	rng := rand.New(rand.NewPCG(19, 20))
	w := walk{}
	for range 30 {
		w.points = append(w.points, orb.Point{100 * rng.Float64(), 100 * rng.Float64()})
	}
	tour := newTour(w.costs())
	tour.unroll()
	for range 200 {
		i := rng.IntN(len(tour.order) - 2)
		tour.turn(i, i+2+rng.IntN(len(tour.order)-i-2))
		for k, a := range tour.order {
			assert.Equal(t, tour.costs[a][tour.order[(k+1)%len(tour.order)]], tour.legs[k])
		}
	}
}
