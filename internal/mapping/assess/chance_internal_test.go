package assess

import (
	"context"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/interp"
)

// What is kept of a place is what the model says of it, and the chances made of it are
// those of the model to the bit.
func TestKeptPlacesAreThoseOfTheModel(t *testing.T) {
	var counts []interp.Count
	for i := range 24 {
		x, y := float64(i%6), float64(i/6)
		counts = append(counts, interp.Count{X: 60*x + 7*y, Y: 60*y - 5*x, Mean: 50 * math.Abs(math.Sin(x+2*y)), Units: 10})
	}
	m, err := interp.ChanceModel{Level: 40}.Fit(counts)
	require.NoError(t, err)
	l := interp.Lattice{X0: -31.7, Y0: -12.3, Cell: 17.1, Cols: 24, Rows: 15}
	nodes := mask{cols: l.Cols, nodes: make([]bool, l.Len())}
	for i := range nodes.nodes { // so many in a row that the last of them stand alone, too
		nodes.nodes[i] = i%7 != 3
	}
	for _, level := range []float64{40, 12.6, 0} {
		want, err := interp.Fill(context.Background(), m.Over(level), l, interp.FillSettings{Mask: nodes.Has})
		require.NoError(t, err)
		got := chanceMap{model: m}
		got.fillKept(l, nodes, level)
		require.Equal(t, want.Lattice, got.grid.Lattice)
		for i, one := range got.kept {
			if !nodes.nodes[i] {
				require.Nil(t, one)
				require.True(t, math.IsNaN(got.grid.Values[i]))
				continue
			}
			require.Equal(t, want.Values[i], got.grid.Values[i])
			require.Equal(t, m.At(l.Node(i%l.Cols, i/l.Cols)), one)
		}
	}
}

// A node is known by its lattice, too: of another one nothing was worked out.
func TestLostOfTheLatticeAlone(t *testing.T) {
	l := interp.Lattice{Cell: 5, Cols: 2, Rows: 1}
	m := chanceMap{grid: interp.NewGrid(l), kept: [][]interp.ShiftedLogNormal{nil, {{Weight: 1, Offset: 1, Mean: math.Log(3)}}}}
	require.Nil(t, m.lostAt(l, 1), "as yet")
	m.loseAt(4)
	require.Nil(t, m.lostAt(l, 0))
	require.InDelta(t, 0.5, m.lostAt(l, 1).loss, 1e-12)
	l.Cell = 10
	require.Nil(t, m.lostAt(l, 1))
}

// Losses that are asked for again are those that were worked out, and at another level they
// are not.
func TestLossesAreKeptOfTheirLevel(t *testing.T) {
	said := [][]interp.ShiftedLogNormal{nil, {{Weight: 1, Offset: 1, Mean: math.Log(3), Variance: 0.5}}}
	kept := &keptLosses{}
	first := kept.at(4, said)
	require.Equal(t, lostOf(said, 4), first)
	require.Same(t, &first[0], &kept.at(4, said)[0])
	require.Equal(t, lostOf(said, 8), kept.at(8, said))
	require.Equal(t, first, kept.at(4, said))
}
