package interp_test

import (
	"context"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/interp"
)

func TestFillPredictsAtTheNodesOfTheMask(t *testing.T) {
	for name, s := range everySetting() {
		for cloud, samples := range clouds() {
			t.Run(name+", "+cloud, func(t *testing.T) { checkFill(t, fit(t, s, samples)) })
		}
	}
}

// checkFill wants what Predict says, to the bit.
func checkFill(t *testing.T, p interp.DistancePredictor) {
	l := interp.Lattice{X0: -10, Y0: -5, Cell: 4, Cols: 31, Rows: 23}
	mask := func(col, row int) bool { return (col+row)%3 != 0 }
	rows := 0
	set := interp.FillSettings{Mask: mask, Progress: func(done, total int) {
		rows++
		assert.Equal(t, rows, done)
		assert.Equal(t, l.Rows, total)
	}}
	value, distance, err := interp.FillWithDistance(t.Context(), p, l, set)
	require.NoError(t, err)
	assert.Equal(t, l.Rows, rows)
	alone, err := interp.Fill(t.Context(), p, l, interp.FillSettings{Mask: mask})
	require.NoError(t, err)
	for row := range l.Rows {
		for col := range l.Cols {
			v, d := math.NaN(), math.NaN()
			if mask(col, row) {
				v, d = p.PredictWithDistance(l.Node(col, row))
			}
			require.Equal(t, bits(v, d, v), bits(value.At(col, row), distance.At(col, row), alone.At(col, row)), "node %d, %d", col, row)
		}
	}
}

// bits makes NaN equal to itself.
func bits(values ...float64) (out []uint64) {
	for _, v := range values {
		if math.IsNaN(v) {
			v = math.NaN() // which has many forms
		}
		out = append(out, math.Float64bits(v))
	}
	return out
}

// plane is a predictor from outside the package.
type plane struct{}

func (plane) Predict(x, y float64) float64                        { return x + 10*y }
func (plane) PredictWithDistance(x, y float64) (float64, float64) { return x + 10*y, x }

func TestFillTakesAnyPredictor(t *testing.T) {
	l := interp.Lattice{X0: 1, Y0: 2, Cell: 1, Cols: 2, Rows: 2}
	value, distance, err := interp.FillWithDistance(t.Context(), plane{}, l, interp.FillSettings{})
	require.NoError(t, err)
	assert.Equal(t, []float64{21, 22, 31, 32}, value.Values)
	assert.Equal(t, []float64{1, 2, 1, 2}, distance.Values)
	alone, err := interp.Fill(t.Context(), plane{}, l, interp.FillSettings{})
	require.NoError(t, err)
	assert.Equal(t, value, alone)
}

func TestFillBeyondReach(t *testing.T) {
	p := fit(t, interp.IDW{Neighbors: all}, clouds()["scattered"])
	value, distance, err := interp.FillWithDistance(t.Context(), p, interp.Lattice{X0: 1e99, Cell: 1e100, Cols: 2, Rows: 1}, interp.FillSettings{})
	require.NoError(t, err)
	assert.Equal(t, []bool{false, true, false, true}, []bool{
		math.IsNaN(value.Values[0]), math.IsNaN(value.Values[1]), math.IsNaN(distance.Values[0]), math.IsNaN(distance.Values[1]),
	})
}

func TestFillRefuses(t *testing.T) {
	p := fit(t, interp.IDW{}, []interp.Sample{{Value: 1}})
	for name, l := range map[string]interp.Lattice{
		"more nodes than memory": {Cell: 1, Cols: 1 << 40, Rows: 1 << 40},
		"a negative count":       {Cell: 1, Cols: -1, Rows: 1},
		"no cell":                {Cols: 1, Rows: 1},
		"an endless cell":        {Cell: math.Inf(1), Cols: 1, Rows: 1},
		"an origin not finite":   {X0: math.NaN(), Cell: 1, Cols: 1, Rows: 1},
	} {
		_, err := interp.Fill(t.Context(), p, l, interp.FillSettings{})
		assert.Error(t, err, name)
		_, _, err = interp.FillWithDistance(t.Context(), p, l, interp.FillSettings{})
		assert.Error(t, err, name)
	}
	cancelled, cancel := context.WithCancel(t.Context())
	cancel()
	g, err := interp.Fill(cancelled, p, interp.Lattice{Cell: 1, Cols: 3, Rows: 3}, interp.FillSettings{})
	assert.ErrorIs(t, err, context.Canceled)
	assert.Empty(t, g.Values, "half a grid is no grid")
	g, err = interp.Fill(t.Context(), p, interp.Lattice{Cell: 1}, interp.FillSettings{})
	require.NoError(t, err)
	assert.Empty(t, g.Values)
}
