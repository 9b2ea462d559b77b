package planar

import (
	"math"
	"slices"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/simplify"

	"github.com/geocoris/geocoris/internal/shares"
)

// Simplify drops vertices of arcs that lie within a tolerance of the chord
// between their neighbours (Douglas & Peucker 1973). An arc is simplified once
// for both its sides, and its ends stay, so the areas still tile the ground.
// Arcs on the rim, beside [Void], keep every vertex: the ground stays the same.
//
// Where the ground is so intricate that a ring would turn inside out or arcs would
// cross, the tolerance is halved, and in the end given up.
func (c *Coverage) Simplify(tolerance float64) *Coverage {
	want := c.within()
	for range 4 {
		if tolerance <= 0 {
			break
		}
		s, total, crossed := c.simplified(tolerance), 0.0, false
		shares.Both(func() { crossed = s.crossed() }, func() { total = s.total() })
		if math.Abs(total-want) <= areaTolerance*want && !crossed {
			return s
		}
		tolerance /= 2
	}
	return c
}

// within is the ground that the rim encloses, as [Coverage.total] is where no arcs cross, but
// without a ring being put together.
func (c *Coverage) within() (area float64) {
	for i, arc := range c.graph.arcs {
		switch left, right := c.label[2*i] != Void, c.label[2*i+1] != Void; {
		case left == right:
		case left:
			area += swept(arc, c.graph.arcs[0][0])
		default:
			area -= swept(arc, c.graph.arcs[0][0])
		}
	}
	return area
}

// swept is the area that the way from a place to a line sweeps along it, counter-clockwise.
func swept(line orb.LineString, from orb.Point) float64 {
	var twice float64
	for i := 1; i < len(line); i++ {
		ax, ay := line[i-1][0]-from[0], line[i-1][1]-from[1]
		bx, by := line[i][0]-from[0], line[i][1]-from[1]
		twice += float64(ax*by) - float64(ay*bx)
	}
	return twice / 2
}

// crossed reports whether arcs cross.
func (c *Coverage) crossed() bool {
	step, err := latticeFor(c.graph.arcs)
	return err != nil || len(crossings(segmentsOn(c.graph.arcs, step), 1)) > 0
}

// total is the ground under all labels but [Void]; a ring turned inside out
// changes it.
func (c *Coverage) total() float64 {
	labels := c.labels()
	areas := make([]float64, len(labels))
	shares.Of(len(labels), 1, func(from, to int) {
		for i := from; i < to; i++ {
			areas[i] = c.Area(labels[i])
		}
	})
	var sum float64
	for _, area := range areas {
		sum += area
	}
	return sum
}

func (c *Coverage) simplified(tolerance float64) *Coverage {
	return c.mapArcs(func(i int, arc orb.LineString) orb.LineString {
		if c.label[2*i] == Void || c.label[2*i+1] == Void {
			return arc
		}
		return simplifyArc(arc, tolerance)
	})
}

// simplifyArc keeps the ends of an arc, and of a closed one the vertex farthest
// from its end too, so that it never collapses onto a line.
func simplifyArc(arc orb.LineString, tolerance float64) orb.LineString {
	reducer := simplify.DouglasPeucker(tolerance)
	if arc[0] != arc[len(arc)-1] {
		return reducer.LineString(slices.Clone(arc)) // it writes into its input
	}
	if len(arc) <= 4 {
		return arc
	}
	far := farthest(arc)
	there := reducer.LineString(slices.Clone(arc[:far+1]))
	back := reducer.LineString(slices.Clone(arc[far:]))
	if closed := append(there, back[1:]...); len(closed) >= 4 {
		return closed
	}
	return arc
}

// SimplifiedRing is a closed ring without the vertices that lie within a tolerance of the
// chord between their neighbours. It begins at a corner: the vertex farthest from where it
// began. It may touch itself where it is intricate.
func SimplifiedRing(ring orb.Ring, tolerance float64) orb.Ring {
	far := farthest(orb.LineString(ring))
	turned := append(slices.Clone(ring[far:]), ring[1:far+1]...)
	return orb.Ring(simplifyArc(orb.LineString(turned), tolerance))
}

func farthest(arc orb.LineString) int {
	best, at := -1.0, 1
	for i := 1; i+1 < len(arc); i++ {
		dx, dy := arc[i][0]-arc[0][0], arc[i][1]-arc[0][1]
		if d := float64(dx*dx) + float64(dy*dy); d > best {
			best, at = d, i
		}
	}
	return at
}

// mapArcs returns the coverage with changed arcs. How the arcs meet is kept as
// it was, whatever the change does to their directions.
func (c *Coverage) mapArcs(change func(i int, arc orb.LineString) orb.LineString) *Coverage {
	moved := *c.graph
	moved.arcs = make([]orb.LineString, len(c.graph.arcs))
	shares.Of(len(moved.arcs), leastShare, func(from, to int) {
		for i := from; i < to; i++ {
			moved.arcs[i] = change(i, c.graph.arcs[i])
		}
	})
	return &Coverage{graph: &moved, label: c.label}
}
