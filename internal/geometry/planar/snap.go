package planar

import (
	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/shares"
)

// Snap moves every vertex to the lattice of whole numbers after a change of
// coordinates, and returns a coverage whose vertices are all on it and whose
// lines still meet in vertices only. What collapses to nothing on the lattice
// is dropped. Rounding alone does not do: it can make lines cross that were a
// hair's breadth apart. So the rounded lines are noded on the lattice, and the
// faces take their labels from the coverage as it was. Coordinates on the lattice
// are below 2⁵⁰.
func (c *Coverage) Snap(toLattice func(orb.Point) orb.Point) *Coverage {
	moved := c.mapArcs(func(_ int, arc orb.LineString) orb.LineString {
		line := make(orb.LineString, len(arc))
		for i, p := range arc {
			line[i] = toLattice(p)
		}
		return line
	})
	a := arrangeNoded(prune(nodeOn(moved.graph.arcs, 1)))
	return a.Dissolve(moved.relabel(a))
}

// relabel gives each face the label of the ground it lies on. Only slivers along
// the rim, no wider than the rounding, may lie on none: they are void.
func (c *Coverage) relabel(a *Arrangement) []int {
	order := c.labels()
	ground := make([]*geo.Index, len(order))
	shares.Of(len(order), 1, func(from, to int) {
		for i := from; i < to; i++ {
			ground[i] = geo.NewIndex(c.Polygons(order[i]))
		}
	})
	labels := make([]int, len(a.Faces))
	shares.Of(len(a.Faces), leastShare, func(from, to int) {
		for i := from; i < to; i++ {
			for k, l := range order {
				if ground[k].Contains(a.Faces[i].Point) {
					labels[i] = l // where simplified arcs cross, the higher label wins
				}
			}
		}
	})
	return labels
}
