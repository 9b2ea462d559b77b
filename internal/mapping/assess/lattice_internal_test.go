package assess

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/interp"
)

func TestCellComesFromTheAreaAlone(t *testing.T) {
	for area, want := range map[float64]float64{
		500_000: 5, 90_000: 2, 1: 0.5, 100: 0.5, 22_500: 1, 647_497: 5, 4_000_000: 10, 20e6: 20, 1e9: 20,
	} {
		assert.Equal(t, want, cellFor(area), "%g m²", area)
	}
}

func TestLatticeStandsOnMultiplesOfTheCell(t *testing.T) {
	field := orb.MultiPolygon{{{{-101, -3}, {44, -3}, {44, 7}, {-101, -3}}}}
	l, err := latticeOver(field, 5)
	require.NoError(t, err)
	assert.Equal(t, [2]float64{-110, -10}, [2]float64{l.X0, l.Y0})
	x, y := l.Node(l.Cols-1, l.Rows-1)
	assert.GreaterOrEqual(t, x, 49.0)
	assert.GreaterOrEqual(t, y, 10.0)
	assert.Zero(t, math.Mod(x, 5))

	_, err = latticeOver(field, 0.001)
	assert.ErrorContains(t, err, "give a larger --cell")
	_, err = latticeOver(field, math.NaN())
	assert.ErrorContains(t, err, "cell size")
}

// A thinned lattice spans the one that it is of: what it lacks at the far side is less
// than a step.
func TestThinnedSpansTheSameGround(t *testing.T) {
	for _, size := range [][2]int{{30, 30}, {31, 29}, {61, 61}, {100, 37}, {37, 100}, {91, 90}, {200, 201}, {1, 5000}} {
		l := interp.Lattice{X0: -100, Y0: 50, Cell: 5, Cols: size[0], Rows: size[1]}
		thin := thinned(l)
		assert.Equal(t, [2]float64{l.X0, l.Y0}, [2]float64{thin.X0, thin.Y0}, size)
		x, y := l.Node(l.Cols-1, l.Rows-1)
		farX, farY := thin.Node(thin.Cols-1, thin.Rows-1)
		for _, gap := range []float64{x - farX, y - farY} {
			assert.GreaterOrEqual(t, gap, 0.0, size)
			assert.Less(t, gap, thin.Cell, size)
		}
		assert.Zero(t, math.Mod(thin.Cell, l.Cell), size)
		if l.Len() <= chanceNodes {
			assert.Equal(t, l, thin, size)
		}
	}
}

// Every cell in which there is field has its four nodes marked, and no node is
// marked that is not of such a cell.
func TestMaskHoldsTheCellsThatTouchTheField(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for range 100 {
		var ring orb.Ring
		n := 3 + rng.IntN(20)
		for i := range n {
			a, r := 2*math.Pi*float64(i)/float64(n), 40*(0.3+0.7*rng.Float64())
			ring = append(ring, orb.Point{math.Round(r*math.Cos(a)*2) / 2, math.Round(r*math.Sin(a)*2) / 2})
		}
		field := orb.MultiPolygon{{append(ring, ring[0])}}
		l, err := latticeOver(field, 2)
		require.NoError(t, err)
		m := maskOf(field, l)
		for range 2000 {
			p := orb.Point{80 * (rng.Float64() - 0.5), 80 * (rng.Float64() - 0.5)}
			if !geo.Contains(field, p) {
				continue
			}
			col, row := int((p[0]-l.X0)/2), int((p[1]-l.Y0)/2)
			require.True(t, m.Has(col, row) && m.Has(col+1, row) && m.Has(col, row+1) && m.Has(col+1, row+1), "%v in %v", p, ring)
		}
		for row := range l.Rows {
			for col := range l.Cols {
				x, y := l.Node(col, row)
				if p := (orb.Point{x, y}); m.Has(col, row) && !geo.Contains(field, p) {
					require.LessOrEqual(t, geo.DistanceToEdge(field, p), 2*math.Sqrt2+1e-3)
				}
			}
		}
	}
}
