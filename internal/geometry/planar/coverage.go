package planar

import (
	"slices"
	"sync"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/shares"
)

// Void is the label of ground that belongs to no area of a coverage.
const Void = 0

// A Coverage is ground parted into labelled areas that share their border arcs:
// areas neither overlap nor leave gaps between them, by construction.
type Coverage struct {
	graph *graph
	label []int // label on the left of each half-edge

	mu    sync.Mutex
	areas map[int]orb.MultiPolygon // of the labels that were asked for
}

// Dissolve labels every face and drops the arcs between faces of equal label.
// What is [Void] and what lies outside belong together. Arcs that only led on
// from one another are joined, so that an arc runs from one meeting of borders
// to the next.
func (a *Arrangement) Dissolve(labels []int) *Coverage {
	of := func(h int) int {
		if face := a.left[h]; face >= 0 {
			return labels[face]
		}
		return Void
	}
	var arcs []orb.LineString
	var sides [][2]int
	for i, arc := range a.graph.arcs {
		if l, r := of(2*i), of(2*i+1); l != r {
			arcs = append(arcs, arc)
			sides = append(sides, [2]int{l, r})
		}
	}
	return newCoverage(chain(arcs, sides))
}

func newCoverage(arcs []orb.LineString, sides [][2]int) *Coverage {
	c := &Coverage{graph: newGraph(arcs), label: make([]int, 2*len(arcs))}
	for i, s := range sides {
		c.label[2*i], c.label[2*i+1] = s[0], s[1]
	}
	return c
}

// chain joins arcs that meet end to end where no third one meets them.
func chain(arcs []orb.LineString, sides [][2]int) ([]orb.LineString, [][2]int) {
	g := newGraph(arcs)
	used := make([]bool, len(arcs))
	var lines []orb.LineString
	var labels [][2]int
	follow := func(h int) {
		line := g.along(h, []orb.Point{g.start(h)})
		left, right := sides[h/2][h%2], sides[h/2][1-h%2]
		used[h/2] = true
		for {
			end := g.ring[g.from[twin(h)]]
			if len(end) != 2 {
				break
			}
			next := end[0]
			if next == twin(h) {
				next = end[1]
			}
			if used[next/2] {
				break
			}
			used[next/2] = true
			line = g.along(next, line)
			h = next
		}
		lines = append(lines, line)
		labels = append(labels, [2]int{left, right})
	}
	for h := range 2 * len(arcs) {
		if !used[h/2] && len(g.ring[g.from[h]]) != 2 {
			follow(h)
		}
	}
	for i := range arcs { // what is left are closed lines without a meeting
		if !used[i] {
			follow(2 * i)
		}
	}
	return lines, labels
}

// labels returns the labels that occur but [Void], in rising order.
func (c *Coverage) labels() []int {
	all := slices.Clone(c.label)
	slices.Sort(all)
	all = slices.Compact(all)
	return slices.DeleteFunc(all, func(l int) bool { return l == Void })
}

// Area returns the ground under a label.
func (c *Coverage) Area(label int) float64 {
	return geo.Area(c.Polygons(label))
}

// Polygons returns the area under a label: outer rings counter-clockwise, holes
// clockwise, every ring simple, so that rings touch one another in points only.
// The order follows the arcs and is the same on every run. They are the coverage's own,
// not to be changed.
func (c *Coverage) Polygons(label int) orb.MultiPolygon {
	c.mu.Lock()
	area, known := c.areas[label]
	c.mu.Unlock()
	if known {
		return area
	}
	area = c.polygons(label) // others are found beside it
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.areas == nil {
		c.areas = map[int]orb.MultiPolygon{}
	}
	c.areas[label] = area
	return area
}

func (c *Coverage) polygons(label int) orb.MultiPolygon {
	var outers, holes []loop
	seen := make([]bool, len(c.label))
	for start := range c.label {
		if seen[start] || c.label[start] != label {
			continue
		}
		var halves []int
		for h := start; !seen[h]; h = c.next(h) {
			seen[h] = true
			halves = append(halves, h)
		}
		for _, ring := range c.split(halves) {
			l := loop{ring: ring, area: signedArea(ring), bound: boundOf(ring)}
			switch {
			case l.area > 0:
				outers = append(outers, l)
			case l.area < 0:
				holes = append(holes, l)
			}
		}
	}
	return assemble(outers, holes)
}

// next is the half-edge that follows h along the border of the label on its
// left, staying in the same corner of it: areas that touch in a point come out
// as separate rings.
func (c *Coverage) next(h int) int { return c.graph.next(h) }

// split cuts a walk wherever it comes back to a node, so that each ring is
// simple: a hole that touches its outer ring in a point is walked together with
// it, but is a ring of its own.
func (c *Coverage) split(halves []int) []orb.Ring {
	var rings []orb.Ring
	var stack []int
	at := map[int]int{} // node → length of the stack on arrival there
	for _, h := range halves {
		if depth, ok := at[c.graph.from[h]]; ok {
			rings = append(rings, c.graph.cycle(stack[depth:]))
			for _, dropped := range stack[depth:] {
				delete(at, c.graph.from[dropped])
			}
			stack = stack[:depth]
		}
		at[c.graph.from[h]] = len(stack)
		stack = append(stack, h)
	}
	return append(rings, c.graph.cycle(stack))
}

// assemble puts each hole into the smallest outer ring around it: holes do not cross
// outer rings, so that a place just inside one tells.
func assemble(outers, holes []loop) orb.MultiPolygon {
	mp := make(orb.MultiPolygon, len(outers))
	for i, o := range outers {
		mp[i] = orb.Polygon{o.ring}
	}
	if len(holes) == 0 {
		return mp
	}
	around, in := aroundFor(outers, len(holes)), make([]int, len(holes))
	shares.Of(len(holes), leastShare, func(from, to int) {
		for k := from; k < to; k++ {
			hole := holes[k]
			in[k] = -1
			for _, i := range around(InsidePoint(orb.Polygon{hole.ring}), hole.bound) {
				if o := outers[i]; o.area >= -hole.area && contains(o.bound, hole.bound) && (in[k] < 0 || o.area < outers[in[k]].area) {
					in[k] = i
				}
			}
		}
	})
	for k, hole := range holes {
		if in[k] >= 0 {
			mp[in[k]] = append(mp[in[k]], hole.ring)
		}
	}
	return mp
}
