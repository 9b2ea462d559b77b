package catch_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/geocoris/geocoris/internal/geometry/catch"
	"github.com/geocoris/geocoris/internal/testkit"
	"github.com/geocoris/geocoris/interp"
)

// Worked by hand: four nodes of 10 m² with chances 0.9, 0.6, 0.4, 0.1 expect
// 20 m² over.
func TestByHand(t *testing.T) {
	g := catch.Nodes{Chance: []float64{0.4, 0.9, 0.1, 0.6}, Area: []float64{10, 10, 10, 10}}
	assert.InDelta(t, 20, g.Expected(), 1e-12)
	for _, c := range []struct{ share, level, area, got float64 }{
		{0.3, 0.9, 10, 0.45}, {0.45, 0.9, 10, 0.45}, {0.46, 0.6, 20, 0.75}, {0.9, 0.4, 30, 0.95}, {1, 0.1, 40, 1},
	} {
		cut, err := g.Catching(c.share, g.Chance)
		require.NoError(t, err)
		assert.Equal(t, c.level, cut.Level, "share %g", c.share)
		assert.InDelta(t, c.area, cut.Area, 1e-12)
		assert.InDelta(t, c.got, cut.Share, 1e-12)
		assert.InDelta(t, c.got*20, cut.Over, 1e-12)
	}
	surface := []float64{50, 20, 7, 20} // ranks the ground otherwise; two nodes of one value
	cut, err := g.Catching(0.5, surface)
	require.NoError(t, err)
	assert.Equal(t, catch.Cut{Level: 20, Area: 30, Over: 19, Share: 0.95}, cut)
	cut, err = g.At(surface, 40)
	require.NoError(t, err)
	assert.Equal(t, catch.Cut{Level: 40, Area: 10, Over: 4, Share: 0.2}, cut)
}

func TestUnknownGround(t *testing.T) {
	nan := math.NaN()
	g := catch.Nodes{Chance: []float64{nan, 0.5, 0.5, 1}, Area: []float64{3, 2, 2, 0}}
	require.NoError(t, g.Validate())
	assert.Equal(t, 2.0, g.Expected())
	_, err := g.Catching(0.9, []float64{9, 8, nan, 9})
	assert.ErrorContains(t, err, "holds 0.5 of the ground")
	cut, err := g.Catching(0.5, []float64{9, 8, nan, 9})
	require.NoError(t, err)
	assert.Equal(t, catch.Cut{Level: 8, Area: 2, Over: 1, Share: 0.5}, cut)

	none := catch.Nodes{Chance: []float64{0, nan}, Area: []float64{1, 1}}
	cut, err = none.Catching(0.9, none.Chance)
	require.NoError(t, err)
	assert.True(t, math.IsInf(cut.Level, 1) && cut.Area == 0 && math.IsNaN(cut.Share))
}

func TestRefuses(t *testing.T) {
	g := catch.Nodes{Chance: []float64{0.5}, Area: []float64{1}}
	for _, share := range []float64{0, -1, 1.1, math.NaN()} {
		_, err := g.Catching(share, g.Chance)
		assert.ErrorContains(t, err, "a share of")
	}
	_, err := g.Catching(0.9, nil)
	assert.ErrorContains(t, err, "a surface of 0 nodes over 1 chances")
	_, err = g.At(nil, 1)
	assert.ErrorContains(t, err, "a surface of 0 nodes over 1 chances")
	assert.ErrorContains(t, catch.Nodes{Chance: []float64{1}}.Validate(), "1 chances with 0 areas")
	assert.ErrorContains(t, catch.Nodes{Chance: []float64{1.1}, Area: []float64{1}}.Validate(), "chance 1.1")
	assert.ErrorContains(t, catch.Nodes{Chance: []float64{1}, Area: []float64{math.NaN()}}.Validate(), "NaN m²")
}

func TestNewNodes(t *testing.T) {
	grid := interp.NewGrid(interp.Lattice{Cell: 5, Cols: 3, Rows: 2})
	copy(grid.Values, []float64{0.1, 0.2, 0.3, 0.4, 0.5, 0.6})
	g := catch.NewNodes(grid, func(col, row int) bool { return col == 2 || row == 1 })
	assert.Equal(t, []float64{0, 0, 25, 25, 25, 25}, g.Area)
	assert.InDelta(t, 25*1.8, g.Expected(), 1e-12)
	assert.InDelta(t, 25*2.1, catch.NewNodes(grid, nil).Expected(), 1e-12)
}

// The cut by chance takes no more ground than any other surface for the same
// share where nodes are of one size, asking for more takes no less, and one node
// value less would not do.
func TestCutByChanceIsTheLeast(t *testing.T) {
	testkit.Property(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 40).Draw(t, "n")
		unit := rapid.Float64Range(0, 1)
		g := catch.Nodes{Chance: rapid.SliceOfN(unit, n, n).Draw(t, "chance"), Area: make([]float64, n)}
		for i := range g.Area {
			g.Area[i] = 25
		}
		if g.Expected() < 1e-9 {
			return
		}
		share := rapid.Float64Range(0.01, 1).Draw(t, "share")
		best, err := g.Catching(share, g.Chance)
		require.NoError(t, err)
		require.GreaterOrEqual(t, best.Share, share*(1-1e-9))
		other, err := g.Catching(share, rapid.SliceOfN(unit, n, n).Draw(t, "surface"))
		require.NoError(t, err)
		require.GreaterOrEqual(t, other.Area, best.Area-25*float64(ties(g.Chance, best.Level)-1))
		above, err := g.At(g.Chance, math.Nextafter(best.Level, 2))
		require.NoError(t, err)
		require.Less(t, above.Share, share)
		more, err := g.Catching(min(1, share*1.1), g.Chance)
		require.NoError(t, err)
		require.GreaterOrEqual(t, more.Area, best.Area)
	})
}

// ties counts the nodes of one value, which a cut takes together.
func ties(values []float64, level float64) (n int) {
	for _, v := range values {
		if v == level {
			n++
		}
	}
	return n
}
