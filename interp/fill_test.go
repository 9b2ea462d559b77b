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
	p := fit(t, interp.IDW{}, clouds()["scattered"])
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
			if !mask(col, row) {
				assert.True(t, math.IsNaN(value.At(col, row)) && math.IsNaN(distance.At(col, row)) && math.IsNaN(alone.At(col, row)))
				continue
			}
			v, d := p.PredictWithDistance(l.Node(col, row))
			assert.Equal(t, [3]float64{v, d, v}, [3]float64{value.At(col, row), distance.At(col, row), alone.At(col, row)})
		}
	}
}

func TestFillRefuses(t *testing.T) {
	p := fit(t, interp.IDW{}, []interp.Sample{{Value: 1}})
	for name, l := range map[string]interp.Lattice{
		"more nodes than memory": {Cell: 1, Cols: 1 << 40, Rows: 1 << 40},
		"a negative count":       {Cell: 1, Cols: -1, Rows: 1},
		"no cell":                {Cols: 1, Rows: 1},
	} {
		_, err := interp.Fill(t.Context(), p, l, interp.FillSettings{})
		assert.Error(t, err, name)
		_, _, err = interp.FillWithDistance(t.Context(), p, l, interp.FillSettings{})
		assert.Error(t, err, name)
	}
	cancelled, cancel := context.WithCancel(t.Context())
	cancel()
	_, err := interp.Fill(cancelled, p, interp.Lattice{Cell: 1, Cols: 3, Rows: 3}, interp.FillSettings{})
	assert.ErrorIs(t, err, context.Canceled)
	g, err := interp.Fill(t.Context(), p, interp.Lattice{Cell: 1}, interp.FillSettings{})
	require.NoError(t, err)
	assert.Empty(t, g.Values)
}
