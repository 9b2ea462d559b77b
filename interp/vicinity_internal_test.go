package interp

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/geocoris/geocoris/internal/testkit"
)

// drawNodes are those of a block on, among, beside or far outside the samples, some
// of them off the mask; their steps are small or large beside those of the samples.
func drawNodes(t *rapid.T, samples []Sample) (nodes []node) {
	a, b := rapid.SampledFrom(samples).Draw(t, "a"), rapid.SampledFrom(samples).Draw(t, "b")
	cell := math.Hypot(a.X-b.X, a.Y-b.Y) * rapid.SampledFrom([]float64{1e-9, 0.01, 0.125, 1, 30}).Draw(t, "step")
	if !(cell > 0) {
		cell = 1
	}
	far := rapid.SampledFrom([]float64{0, 0, -3.5, 100, 1e9}).Draw(t, "far")
	l := Lattice{X0: a.X + far*cell, Y0: b.Y - far*cell, Cell: cell, Cols: blockSide, Rows: rapid.IntRange(1, blockSide).Draw(t, "rows")}
	f := filling{lattice: l}
	if off := rapid.IntRange(2, 9).Draw(t, "off"); off < 6 {
		f.set.Mask = func(col, row int) bool { return (col+3*row)%off != 0 }
	}
	return f.nodes(tile{0, 0, l.Cols, l.Rows}, nil)
}

// A block finds the samples that a search round each of its nodes finds, ties and all.
func TestVicinityEqualsSearchingRoundEachNode(t *testing.T) {
	var served, asked int
	testkit.Property(t, func(t *rapid.T) {
		samples := drawPlaces(t)
		if rapid.Bool().Draw(t, "twice") {
			samples = append(samples, samples...)
		}
		n := newNeighbors(samples)
		v := vicinity{neighbors: n, want: rapid.IntRange(1, 40).Draw(t, "k")}
		for range 4 {
			nodes := drawNodes(t, samples)
			asked++
			if !v.surround(nodes) {
				continue
			}
			served++
			for _, q := range nodes {
				want := n.nearest(q.x, q.y, none, make([]found, 0, v.want))
				got := slices.Clone(v.nearest(q.x, q.y))
				require.Equal(t, want, got, "at %g, %g", q.x, q.y)
			}
		}
	})
	assert.Greater(t, served, asked/3, "or next to nothing was compared")
}

// Blocks without nodes, beyond reach or amid too many samples are for others.
func TestVicinityDeclines(t *testing.T) {
	var dense []Sample
	for i := range 400 {
		dense = append(dense, Sample{X: float64(i % 20), Y: float64(i / 20)})
	}
	amid := filling{lattice: Lattice{Cell: 2, Cols: 8, Rows: 8}}
	v := vicinity{neighbors: newNeighbors(dense), want: 2}
	assert.False(t, v.surround(amid.nodes(tile{0, 0, 8, 8}, nil)), "too many samples")
	assert.True(t, v.surround(amid.nodes(tile{0, 0, 1, 1}, nil)))
	assert.False(t, v.surround(nil))
	assert.False(t, v.surround([]node{{x: 1e101}}))
	assert.False(t, v.surround([]node{{}, {y: math.NaN()}}))
}

// The nearest sample of a corner may be as far from the centre as D + 2δ, and no nearer
// one is then left out.
func TestVicinityReachesAsFarAsItMust(t *testing.T) {
	const far, δ = 40.0, 5.0
	samples := []Sample{{X: -far}, {X: far + 2*δ - 1e-6}, {Y: far + 2*δ - 1e-6}, {Y: -far - 2*δ + 1e-6}}
	v := vicinity{neighbors: newNeighbors(samples), want: 1}
	require.True(t, v.surround([]node{{x: -δ}, {x: δ}, {y: δ}, {y: -δ}}))
	for _, q := range []node{{x: -δ}, {x: δ}, {y: δ}, {y: -δ}} {
		assert.Equal(t, bruteForce(samples, q.x, q.y, none, 1), idsOf(v.nearest(q.x, q.y)), "at %g, %g", q.x, q.y)
	}
}
