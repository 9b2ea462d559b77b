package contour_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/geometry/contour"
	"github.com/geocoris/geocoris/internal/testkit"
	"github.com/geocoris/geocoris/interp"
)

func grid(cell float64, rows ...[]float64) interp.Grid {
	g := interp.NewGrid(interp.Lattice{Cell: cell, Cols: len(rows[0]), Rows: len(rows)})
	for i, row := range rows {
		copy(g.Values[(len(rows)-1-i)*g.Cols:], row) // written north to south
	}
	return g
}

// Areas with a closed formula; the source of the table is in its SOURCE.md.
func TestAreasOfAnalyticSurfaces(t *testing.T) {
	const rot = math.Pi / 6
	surfaces := map[string]func(x, y float64) float64{
		"cone":  func(x, y float64) float64 { return 100 * (1 - math.Hypot(x, y)/400) },
		"gauss": func(x, y float64) float64 { return 100 * math.Exp(-(x*x+y*y)/(2*120*120)) },
		"gauss_elliptic_rot30": func(x, y float64) float64 {
			u, v := x*math.Cos(rot)+y*math.Sin(rot), y*math.Cos(rot)-x*math.Sin(rot)
			return 100 * math.Exp(-u*u/(2*150*150)-v*v/(2*80*80))
		},
		"plane_x": func(x, _ float64) float64 { return (x + 500) / 10 },
	}
	table := testkit.ReadTable(t, testkit.Testdata(t, "reference", "contour-zones", "analytic_threshold_areas.csv"))
	checked := 0
	for row := range table.Len() {
		cell, _ := table.Number(t, row, "cell_m")
		level, _ := table.Number(t, row, "threshold")
		exact, _ := table.Number(t, row, "exact_area_above_m2")
		name := table.Text(t, row, "surface")
		if cell != 5 {
			continue
		}
		checked++
		n := int(1000/cell) + 1
		g := interp.NewGrid(interp.Lattice{X0: -500, Y0: -500, Cell: cell, Cols: n, Rows: n})
		for i := range g.Values {
			x, y := g.Node(i%n, i/n)
			g.Values[i] = surfaces[name](x, y)
		}
		tolerance := 0.001
		if level == 80 {
			tolerance = 0.0025 // the smallest areas are 0.15 % off by GDAL too
		}
		assert.InEpsilon(t, exact, contour.Area(contour.Rings(g, level)), tolerance, "%s at %g", name, level)
	}
	assert.Equal(t, 20, checked)
}

func TestRingsByHand(t *testing.T) {
	nan := math.NaN()
	for name, c := range map[string]struct {
		grid interp.Grid
		area float64
		n    int
	}{
		"nothing reaches the level":       {grid(1, []float64{0, 0}, []float64{0, 0}), 0, 0},
		"everything does":                 {grid(1, []float64{9, 9}, []float64{9, 9}), 1, 1},
		"no data at all":                  {grid(1, []float64{nan, nan}, []float64{nan, nan}), 0, 0},
		"one peak, half-way lines":        {grid(2, []float64{0, 0, 0}, []float64{0, 10, 0}, []float64{0, 0, 0}), 2, 1},
		"one pit":                         {grid(2, []float64{10, 10, 10}, []float64{10, 0, 10}, []float64{10, 10, 10}), 16 - 2, 2},
		"a node just at the level":        {grid(1, []float64{0, 0, 0}, []float64{0, 5, 0}, []float64{0, 0, 0}), 0, 0},
		"saddle, mean at the level":       {grid(2, []float64{10, 0}, []float64{0, 10}), 4 - 2*0.5, 1},
		"saddle, mean below":              {grid(2, []float64{9, 0}, []float64{0, 9}), 2 * 0.5 * 64 / 81, 2},
		"ground ends at nodes that count": {grid(1, []float64{9, 9, nan}, []float64{9, 9, nan}), 1, 1},
	} {
		t.Run(name, func(t *testing.T) {
			rings := contour.Rings(c.grid, 5)
			assert.Len(t, rings, c.n)
			assert.InDelta(t, c.area, contour.Area(rings), 1e-12)
		})
	}
}

func TestRingsAreClosedHoldHighGroundLeftAndNest(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	for range 300 {
		g := interp.NewGrid(interp.Lattice{X0: -3, Y0: 7, Cell: 2.5, Cols: 2 + rng.IntN(12), Rows: 2 + rng.IntN(12)})
		for i := range g.Values {
			if rng.IntN(10) > 0 {
				g.Values[i] = float64(rng.IntN(6)) // whole numbers: many nodes at the level
			}
		}
		low, high := contour.Rings(g, 2), contour.Rings(g, 3)
		for _, rings := range [][]orb.Ring{low, high} {
			assert.GreaterOrEqual(t, contour.Area(rings), 0.0)
			for _, r := range rings {
				require.GreaterOrEqual(t, len(r), 4)
				require.True(t, r.Closed())
			}
		}
		assert.LessOrEqual(t, contour.Area(high), contour.Area(low)+1e-9, "raising the level enlarged the ground")
	}
}

func BenchmarkRings(b *testing.B) {
	const n = 160
	g := interp.NewGrid(interp.Lattice{Cell: 5, Cols: n, Rows: n})
	for i := range g.Values {
		x, y := g.Node(i%n, i/n)
		g.Values[i] = 50 + 50*math.Sin(x/60)*math.Cos(y/80)
	}
	for b.Loop() {
		contour.Rings(g, 40)
	}
}
