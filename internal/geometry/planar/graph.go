package planar

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/internal/sorted"
)

// graph is a set of noded arcs with, at each node, the arcs around it in order.
//
// Half-edge 2i runs along arc i, half-edge 2i+1 against it.
type graph struct {
	arcs []orb.LineString
	from []int   // node at which a half-edge begins
	ring [][]int // per node, its outgoing half-edges counter-clockwise
	slot []int   // place of a half-edge in the ring of its node
}

func newGraph(arcs []orb.LineString) *graph {
	g := &graph{
		arcs: arcs,
		from: make([]int, 2*len(arcs)),
		slot: make([]int, 2*len(arcs)),
	}
	g.attach()
	for _, out := range g.ring {
		sorted.By(out, g.byDirection)
		for k, h := range out {
			g.slot[h] = k
		}
	}
	return g
}

// attach numbers the nodes as arcs come to them, and gives each its half-edges.
func (g *graph) attach() {
	nodes := newNumbering(len(g.from))
	for i, arc := range g.arcs {
		g.from[2*i], g.from[2*i+1] = nodes.of(arc[0]), nodes.of(arc[len(arc)-1])
	}
	degree := make([]int, len(nodes.at))
	for _, n := range g.from {
		degree[n]++
	}
	g.ring = make([][]int, len(degree))
	room := make([]int, len(g.from))
	for n, d := range degree {
		g.ring[n], room = room[:0:d], room[d:]
	}
	for h, n := range g.from {
		g.ring[n] = append(g.ring[n], h)
	}
}

// step is the vector from the start of a half-edge to its next vertex.
func (g *graph) step(h int) (dx, dy float64) {
	arc := g.arcs[h/2]
	a, b := arc[0], arc[1]
	if h%2 == 1 {
		a, b = arc[len(arc)-1], arc[len(arc)-2]
	}
	return b[0] - a[0], b[1] - a[1]
}

// byDirection orders outgoing half-edges counter-clockwise from east. The cross
// product decides inside a half-plane, so no angle is ever computed.
func (g *graph) byDirection(a, b int) int {
	ax, ay := g.step(a)
	bx, by := g.step(b)
	if c := cmp.Compare(half(ax, ay), half(bx, by)); c != 0 {
		return c
	}
	return cmp.Or(-compareProducts(ax, by, ay, bx), cmp.Compare(a, b))
}

// half is 0 for directions from east up to, not including, west, 1 for the rest.
func half(dx, dy float64) int {
	if dy > 0 || (dy == 0 && dx > 0) {
		return 0
	}
	return 1
}

func twin(h int) int { return h ^ 1 }

// clockwise is the outgoing half-edge next to h, clockwise round its node.
func (g *graph) clockwise(h int) int {
	out := g.ring[g.from[h]]
	return out[(g.slot[h]+len(out)-1)%len(out)]
}

// next is the half-edge that follows h along the face on its left.
func (g *graph) next(h int) int { return g.clockwise(twin(h)) }

// along appends the vertices along a half-edge but the first.
func (g *graph) along(h int, to []orb.Point) []orb.Point {
	arc := g.arcs[h/2]
	if h%2 == 0 {
		return append(to, arc[1:]...)
	}
	for i := len(arc) - 2; i >= 0; i-- {
		to = append(to, arc[i])
	}
	return to
}

// start is the vertex at which a half-edge begins.
func (g *graph) start(h int) orb.Point {
	arc := g.arcs[h/2]
	if h%2 == 0 {
		return arc[0]
	}
	return arc[len(arc)-1]
}

// cycle joins half-edges that follow one another into a closed ring.
func (g *graph) cycle(halves []int) orb.Ring {
	points := 1
	for _, h := range halves {
		points += len(g.arcs[h/2]) - 1
	}
	ring := append(make([]orb.Point, 0, points), g.start(halves[0]))
	for _, h := range halves {
		ring = g.along(h, ring)
	}
	return ring
}

// pieces numbers the connected pieces of the linework, by node.
func (g *graph) pieces() []int {
	piece := make([]int, len(g.ring))
	for start := range g.ring {
		if piece[start] != 0 {
			continue
		}
		piece[start] = start + 1
		for reached := []int{start}; len(reached) > 0; {
			n := reached[len(reached)-1]
			reached = reached[:len(reached)-1]
			for _, h := range g.ring[n] {
				if end := g.from[twin(h)]; piece[end] == 0 {
					piece[end] = start + 1
					reached = append(reached, end)
				}
			}
		}
	}
	return piece
}

// signedArea is positive for a counter-clockwise ring.
func signedArea(ring orb.Ring) float64 {
	var twice float64
	o := ring[0]
	for i := 1; i+1 < len(ring); i++ {
		ax, ay := ring[i][0]-o[0], ring[i][1]-o[1]
		bx, by := ring[i+1][0]-o[0], ring[i+1][1]-o[1]
		twice += float64(ax*by) - float64(ay*bx)
	}
	return twice / 2
}

// prune takes away arcs that end in the open, again and again, since they bound
// nothing, and arcs folded onto themselves.
func prune(arcs []orb.LineString) []orb.LineString {
	for {
		nodes, degree := newNumbering(2*len(arcs)), make([]int, 2*len(arcs))
		for _, arc := range arcs {
			degree[nodes.of(arc[0])]++
			degree[nodes.of(arc[len(arc)-1])]++
		}
		kept := slices.DeleteFunc(slices.Clone(arcs), func(arc orb.LineString) bool {
			return degree[nodes.of(arc[0])] == 1 || degree[nodes.of(arc[len(arc)-1])] == 1 || !slices.ContainsFunc(arc, func(p orb.Point) bool { return p != arc[0] })
		})
		if len(kept) == len(arcs) {
			return kept
		}
		arcs = kept
	}
}

func length(line orb.LineString) float64 {
	var sum float64
	for i := 1; i < len(line); i++ {
		sum += math.Hypot(line[i][0]-line[i-1][0], line[i][1]-line[i-1][1])
	}
	return sum
}
