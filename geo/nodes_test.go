package geo_test

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/testkit"
)

// nodesOneByOne asks [geo.Contains] at every node.
func nodesOneByOne(mp orb.MultiPolygon, l geo.Lattice) (nodes [][2]int) {
	for row := range l.Rows {
		for col := range l.Cols {
			if geo.Contains(mp, l.Node(col, row)) {
				nodes = append(nodes, [2]int{col, row})
			}
		}
	}
	return nodes
}

func nodesInside(mp orb.MultiPolygon, l geo.Lattice) (nodes [][2]int) {
	for col, row := range geo.NodesInside(mp, l) {
		nodes = append(nodes, [2]int{col, row})
	}
	return nodes
}

// Rings of nodes of the lattice itself, and of its halves, have nodes on edges and
// vertices; they cross and touch themselves and one another, run to and fro, and
// reach beyond the lattice. Cells such as 0.1 make nodes that no multiplication hits.
func TestNodesInsideAreThoseThatContainsFinds(t *testing.T) {
	onEdge, inside := 0, 0
	testkit.Property(t, func(t *rapid.T) {
		l := geo.Lattice{
			X0: rapid.SampledFrom([]float64{0, -0.3, 7, 1e5 + 0.7}).Draw(t, "x0"), Y0: rapid.SampledFrom([]float64{0, 0.1, -1e6}).Draw(t, "y0"),
			Cell: rapid.SampledFrom([]float64{1, 0.1, 1.0 / 3, 0.7}).Draw(t, "cell"),
			Cols: rapid.IntRange(6, 14).Draw(t, "cols"), Rows: rapid.IntRange(6, 14).Draw(t, "rows"),
		}
		part := rapid.SampledFrom([]float64{1, 2, 3}).Draw(t, "part")
		vertex := rapid.Custom(func(t *rapid.T) orb.Point {
			p := l.Node(rapid.IntRange(-3, 16).Draw(t, "col"), rapid.IntRange(-3, 16).Draw(t, "row"))
			if part > 1 {
				p[0] += l.Cell / part * float64(rapid.IntRange(0, 2).Draw(t, "dx"))
				p[1] += l.Cell / part * float64(rapid.IntRange(0, 2).Draw(t, "dy"))
			}
			return p
		})
		mp := orb.MultiPolygon{}
		for range rapid.IntRange(1, 3).Draw(t, "parts") {
			var polygon orb.Polygon
			for range rapid.IntRange(1, 3).Draw(t, "rings") {
				polygon = append(polygon, rapid.SliceOfN(vertex, 2, 9).Draw(t, "ring"))
			}
			mp = append(mp, polygon)
		}
		want := nodesOneByOne(mp, l)
		require.Equal(t, want, nodesInside(mp, l))
		for _, n := range want {
			inside++
			if geo.DistanceToEdge(mp, l.Node(n[0], n[1])) == 0 {
				onEdge++
			}
		}
	})
	assert.Greater(t, onEdge, testkit.Draws(100))
	assert.Greater(t, inside, 2*onEdge)
}

func TestNodesInsideOnTheBoundary(t *testing.T) {
	l := geo.Lattice{X0: -1, Y0: -1, Cell: 1, Cols: 13, Rows: 13}
	hole := append(orb.MultiPolygon{}, box(0, 0, 10, 10)...)
	hole[0] = append(hole[0], orb.Ring{{3, 3}, {3, 6}, {6, 6}, {6, 3}, {3, 3}})
	assert.Len(t, nodesInside(hole, l), 11*11-2*2, "the edges of both, less what lies in the hole")
	spike := orb.MultiPolygon{{{{2, 2}, {4, 9}, {6, 2}, {2, 2}}}}
	assert.Contains(t, nodesInside(spike, l), [2]int{5, 10}, "a tip that only points up")
	assert.Empty(t, nodesInside(nil, l))
	assert.Empty(t, nodesInside(box(0, 0, 10, 10), geo.Lattice{Cell: 1}))
	for range geo.NodesInside(hole, l) {
		break // whoever has seen enough may stop
	}
}

func TestNodesInsideOfBrokenRings(t *testing.T) {
	l := geo.Lattice{X0: -2, Y0: -2, Cell: 1, Cols: 9, Rows: 9}
	broken := degenerate()
	broken["nan x"] = orb.MultiPolygon{{{{0, 0}, {nan, 4}, {4, 4}, {0, 4}}}}
	broken["nan y"] = orb.MultiPolygon{{{{0, 0}, {4, nan}, {4, 4}, {0, 4}}}}
	broken["infinite"] = orb.MultiPolygon{{{{0, 0}, {inf, 0}, {4, 4}, {0, inf}}}}
	broken["huge"] = orb.MultiPolygon{{{{-1e300, -1e300}, {1e300, -1e300}, {0, math.MaxFloat64}}}}
	for name, mp := range broken {
		assert.Equal(t, nodesOneByOne(mp, l), nodesInside(mp, l), name)
	}
}
