package planar

import (
	"fmt"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
)

// snapRounds bounds the rounds of noding and rounding. Two or three are
// usual, since each moves lines by half a step at most.
const snapRounds = 20

// Snap moves every vertex to the lattice of whole numbers after a change of
// coordinates, and returns a coverage whose vertices are all on it and whose
// lines still meet in vertices only. What collapses to nothing on the lattice
// is dropped. Rounding alone does not do: it can make lines cross that were a
// hair's breadth apart. So the rounded lines are noded and rounded again until
// nothing new appears (snap rounding: Hobby 1999, Comput. Geom. 13:199–214),
// and the faces take their labels from the coverage as it was.
func (c *Coverage) Snap(toLattice func(orb.Point) orb.Point) (*Coverage, error) {
	moved := c.mapArcs(func(_ int, arc orb.LineString) orb.LineString {
		line := make(orb.LineString, len(arc))
		for i, p := range arc {
			line[i] = toLattice(p)
		}
		return line
	})
	arcs, err := snapNode(moved.graph.arcs)
	if err != nil {
		return nil, err
	}
	a := arrangeNoded(prune(arcs))
	return a.Dissolve(moved.relabel(a)), nil
}

// snapNode rounds and nodes lines until they are noded on the lattice.
func snapNode(lines []orb.LineString) ([]orb.LineString, error) {
	lines = slices.Clone(lines)
	for range snapRounds {
		for i, line := range lines {
			lines[i] = rounded(line)
		}
		noded, err := node(lines)
		if err != nil {
			return nil, err
		}
		if onLattice(noded) {
			return noded, nil
		}
		lines = noded
	}
	return nil, fmt.Errorf("planar: lines still cross between lattice points after %d rounds", snapRounds)
}

func rounded(line orb.LineString) orb.LineString {
	out := make(orb.LineString, 0, len(line))
	for _, p := range line {
		q := orb.Point{math.RoundToEven(p[0]), math.RoundToEven(p[1])}
		if len(out) == 0 || q != out[len(out)-1] {
			out = append(out, q)
		}
	}
	return out
}

func onLattice(lines []orb.LineString) bool {
	for _, line := range lines {
		for _, p := range line {
			if p[0] != math.RoundToEven(p[0]) || p[1] != math.RoundToEven(p[1]) {
				return false
			}
		}
	}
	return true
}

// relabel gives each face the label of the ground it lies on. Only slivers along
// the rim, no wider than the rounding, may lie on none: they are void.
func (c *Coverage) relabel(a *Arrangement) []int {
	order := c.labels()
	ground := make([]orb.MultiPolygon, len(order))
	for i, l := range order {
		ground[i] = c.Polygons(l)
	}
	labels := make([]int, len(a.Faces))
	for i, face := range a.Faces {
		for k, l := range order {
			if geo.Contains(ground[k], face.Point) {
				labels[i] = l // where simplified arcs cross, the higher label wins
			}
		}
	}
	return labels
}
