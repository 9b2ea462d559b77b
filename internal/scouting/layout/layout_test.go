package layout_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/internal/scouting/layout"
	"github.com/geocoris/geocoris/internal/testkit"
)

func square() layout.Lattice {
	const n = 40
	const cell = testkit.InventedSide / n
	g := layout.Lattice{Cell: cell * cell}
	for i := range n * n {
		g.Points = append(g.Points, [2]float64{cell * (float64(i%n) + .5), cell * (float64(i/n) + .5)})
	}
	return g
}

// One stop in the middle of a square of side 1 reaches all but the corners: π/4 is
// within half a side of it, and the whole within a side.
func TestByHand(t *testing.T) {
	g := square()
	side := testkit.InventedSide
	l := g.Of([][2]float64{{side / 2, side / 2}})
	assert.InDelta(t, side, l.Reach, 1e-9)
	assert.Equal(t, 1.0, l.Share)
	assert.Equal(t, 0.5, l.Beyond)
	corner := g.Of([][2]float64{{0, 0}})
	assert.InDelta(t, math.Pi/4, corner.Share, .01)
	assert.InDelta(t, math.Pi/4*side*side, corner.Area, .01*side*side)
	assert.InDelta(t, 1, corner.Beyond, 1e-12)

	none := g.Of(nil)
	assert.Zero(t, none.Share)
	assert.False(t, none.Partial() || none.Uneven() || none.Crossed(), "nobody has been there")
	nowhere := layout.Lattice{}.Of([][2]float64{{1, 1}})
	assert.True(t, math.IsNaN(nowhere.Share))
	assert.False(t, nowhere.Partial() || nowhere.Uneven() || nowhere.Crossed(), "nothing is said without ground")
}

// Stops that are spread speak for the field, those along a W do not from 45 on,
// those along a road never; more stops along a W never make less of its span.
func TestShares(t *testing.T) {
	const draws = 100
	g := square()
	for _, n := range []int{8, 12, 20, 30, 45, 60, 120} {
		uneven, partial, share := map[string]int{}, map[string]int{}, map[string]float64{}
		for name, walk := range testkit.Walks() {
			rng := rand.New(rand.NewPCG(1, uint64(n)))
			for range draws {
				l := g.Of(walk(rng, n))
				share[name] += l.Share / draws
				if l.Uneven() {
					uneven[name]++
				}
				if l.Partial() {
					partial[name]++
				}
			}
			t.Logf("%s, %d stops: speak for %.2f, uneven %d, partial %d of %d", name, n, share[name], uneven[name], partial[name], draws)
		}
		assert.Zero(t, uneven["grid"])
		assert.LessOrEqual(t, uneven["random"], draws/5, "%d stops", n)
		assert.Equal(t, n >= 45, uneven["W"] == draws, "%d stops", n)
		assert.Equal(t, draws, uneven["road"])
		assert.Equal(t, draws, partial["road"])
		assert.Zero(t, partial["grid"]+partial["random"]+partial["W"])
		assert.InDelta(t, .92, share["random"], .03)
	}
}
