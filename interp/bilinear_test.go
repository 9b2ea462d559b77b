package interp_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/interp"
)

// A surface a + bx + cy + dxy is what bilinear interpolation gives back exactly.
func TestBilinear(t *testing.T) {
	surface := func(x, y float64) float64 { return 3 + 2*x - 5*y + 0.5*x*y }
	g := interp.NewGrid(interp.Lattice{X0: -10, Y0: 20, Cell: 5, Cols: 4, Rows: 3})
	for row := range g.Rows {
		for col := range g.Cols {
			g.Values[row*g.Cols+col] = surface(g.Node(col, row))
		}
	}
	for _, p := range [][2]float64{{-10, 20}, {5, 30}, {-10, 30}, {5, 20}, {-7.5, 22.5}, {0, 26}, {4.99, 29.9}} {
		assert.InDelta(t, surface(p[0], p[1]), g.Bilinear(p[0], p[1]), 1e-12)
	}
	for _, p := range [][2]float64{{-10.001, 20}, {5.001, 25}, {0, 19.9}, {0, 30.1}, {math.NaN(), 25}, {0, math.Inf(1)}} {
		assert.True(t, math.IsNaN(g.Bilinear(p[0], p[1])), p)
	}
	g.Values[0] = math.NaN()
	assert.True(t, math.IsNaN(g.Bilinear(-9, 21)))
	assert.InDelta(t, surface(-5, 21), g.Bilinear(-5, 21), 1e-12, "the node without data does not count there")
}
