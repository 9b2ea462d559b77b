package planar

import (
	"container/heap"
	"math"
	"slices"

	"github.com/paulmach/orb"
)

// A Move says to which sides the line of an arc may go: what lies on that side loses
// ground, and what lies on the other gains it.
type Move struct{ Left, Right bool }

// Reduce drops points of arcs, those first that move a line over the least ground
// (after Visvalingam & Whyatt 1993), until enough are gone or no more can be. Of an arc
// with the labels left and right, allowed tells to which sides its line may go, and cost how many
// points one of its vertices counts for. Where a line may go to one side only, a corner
// that points away from there is cut off by the chord, and an edge between two corners that
// point there gives way to the corner at which its neighbours meet. No line moves over
// another one, so that every area keeps its neighbours; ends of arcs stay. The second
// value is the points that are gone.
func (c *Coverage) Reduce(wanted int, allowed func(left, right int) Move, cost func(left, right int) int) (*Coverage, int) {
	r := newReducer(c, allowed, cost)
	for r.gone < wanted {
		before := r.gone
		r.round(wanted)
		if r.gone == before {
			break
		}
	}
	return c.mapArcs(func(i int, _ orb.LineString) orb.LineString { return r.line(i) }), r.gone
}

// Union is the ground under all labels that are wanted, [Void] never.
func (c *Coverage) Union(wanted func(label int) bool) orb.MultiPolygon {
	var arcs []orb.LineString
	var sides [][2]int
	of := func(label int) int {
		if label != Void && wanted(label) {
			return 1
		}
		return Void
	}
	for i, arc := range c.graph.arcs {
		if l, r := of(c.label[2*i]), of(c.label[2*i+1]); l != r {
			arcs, sides = append(arcs, arc), append(sides, [2]int{l, r})
		}
	}
	return newCoverage(chain(arcs, sides)).Polygons(1)
}

// reducer holds the vertices of all arcs as lists. An edge is known by the vertex that it
// begins at.
type reducer struct {
	at         []orb.Point
	prev, next []int // -1 at the ends of an arc
	arc        []int
	version    []int // of the surroundings of a vertex; -1 of one that is gone
	first      []int // vertex of each arc
	left       []int // vertices that each arc has
	closed     []bool
	move       []Move
	cost       []int
	edges      edgeGrid
	queue      steps
	gone       int
}

// A step takes a vertex out, or the edge after it where edge is set.
type step struct {
	area    float64
	vertex  int
	edge    bool
	version int
}

func newReducer(c *Coverage, allowed func(left, right int) Move, cost func(left, right int) int) *reducer {
	r := &reducer{}
	for i, arc := range c.graph.arcs {
		l, right := c.label[2*i], c.label[2*i+1]
		r.first, r.left = append(r.first, len(r.at)), append(r.left, len(arc))
		r.move, r.cost = append(r.move, allowed(l, right)), append(r.cost, cost(l, right))
		r.closed = append(r.closed, arc[0] == arc[len(arc)-1])
		for k, p := range arc {
			n := len(r.at)
			prev, next := n-1, n+1
			if k == 0 {
				prev = -1
			}
			if k == len(arc)-1 {
				next = -1
			}
			r.at, r.prev, r.next = append(r.at, p), append(r.prev, prev), append(r.next, next)
			r.arc, r.version = append(r.arc, i), append(r.version, 0)
		}
	}
	r.edges = newEdgeGrid(r.at)
	for v, next := range r.next {
		if next >= 0 {
			r.edges.add(v, r.at[v], r.at[next])
		}
	}
	return r
}

// line is what is left of an arc.
func (r *reducer) line(arc int) (line orb.LineString) {
	for v := r.first[arc]; v >= 0; v = r.next[v] {
		line = append(line, r.at[v])
	}
	return line
}

// round takes steps until enough points are gone or none is left to try.
func (r *reducer) round(wanted int) {
	r.queue = r.queue[:0]
	for v := range r.at {
		r.push(v)
	}
	for r.gone < wanted && len(r.queue) > 0 {
		s := heap.Pop(&r.queue).(step)
		if r.version[s.vertex] != s.version {
			continue
		}
		if s.edge {
			r.takeEdge(s.vertex)
		} else {
			r.takeVertex(s.vertex)
		}
	}
}

// push queues what could be taken at a vertex.
func (r *reducer) push(v int) {
	if v < 0 || r.version[v] < 0 || r.prev[v] < 0 || r.next[v] < 0 {
		return
	}
	least := 3 // points of an arc, with both ends
	if r.closed[r.arc[v]] {
		least = 5
	}
	if r.left[r.arc[v]] < least {
		return
	}
	move := r.move[r.arc[v]]
	a, p, b := r.at[r.prev[v]], r.at[v], r.at[r.next[v]]
	turn := turning(a, p, b)
	if turn > 0 && move.Left || turn < 0 && move.Right || math.Abs(turn) <= straight*math.Hypot(b[0]-a[0], b[1]-a[1]) {
		heap.Push(&r.queue, step{math.Abs(turn) / 2, v, false, r.version[v]})
	}
	w := r.next[v]
	if d := r.next[w]; d >= 0 {
		if corner, ok := meeting(a, p, b, r.at[d]); ok && (turn < 0 && move.Left || turn > 0 && move.Right) {
			heap.Push(&r.queue, step{math.Abs(turning(p, corner, b)) / 2, v, true, r.version[v]})
		}
	}
}

// turning is twice the area of the triangle, above 0 where it turns to the left.
func turning(a, b, c orb.Point) float64 {
	return float64((b[0]-a[0])*(c[1]-a[1])) - float64((b[1]-a[1])*(c[0]-a[0]))
}

// meeting is where the edges before and after b–c meet when they are lengthened over it;
// ok is false where they do not.
func meeting(a, b, c, d orb.Point) (p orb.Point, ok bool) {
	first, second := turning(a, b, c), turning(b, c, d)
	if first == 0 || second == 0 || first > 0 != (second > 0) {
		return p, false
	}
	ux, uy, vx, vy := b[0]-a[0], b[1]-a[1], c[0]-d[0], c[1]-d[1]
	cross := float64(ux*vy) - float64(uy*vx)
	if cross == 0 || first > 0 != (cross < 0) {
		return p, false
	}
	t := (float64((c[0]-b[0])*vy) - float64((c[1]-b[1])*vx)) / cross
	if !(t > 0) || math.IsInf(t, 1) {
		return p, false
	}
	return orb.Point{b[0] + float64(t*ux), b[1] + float64(t*uy)}, true
}

// takeVertex puts the chord in place of the two edges at a vertex, where no line lies
// between.
func (r *reducer) takeVertex(v int) {
	a, b := r.prev[v], r.next[v]
	p, q := r.at[a], r.at[b]
	if p == q || r.blocked([3]orb.Point{p, r.at[v], q}, []int{a, v}, p, q) {
		return
	}
	r.drop(v)
	r.edges.add(a, p, q)
	r.changed(a, b)
}

// takeEdge puts a corner in place of the edge from v, where no line lies between.
func (r *reducer) takeEdge(v int) {
	a, w := r.prev[v], r.next[v]
	d := r.next[w]
	corner, ok := meeting(r.at[a], r.at[v], r.at[w], r.at[d])
	if !ok || r.blocked([3]orb.Point{r.at[v], corner, r.at[w]}, []int{a, v, w}, r.at[v], r.at[w]) {
		return
	}
	r.drop(w)
	r.at[v] = corner
	r.edges.add(a, r.at[a], corner)
	r.edges.add(v, corner, r.at[d])
	r.changed(a, v, d)
}

func (r *reducer) drop(v int) {
	a, b := r.prev[v], r.next[v]
	r.next[a], r.prev[b] = b, a
	r.version[v] = -1
	r.left[r.arc[v]]--
	r.gone += r.cost[r.arc[v]]
}

// changed queues anew what lies around vertices.
func (r *reducer) changed(around ...int) {
	var all []int
	for _, v := range around {
		for _, n := range []int{v, r.prev[v]} {
			all = append(all, n)
			if n >= 0 {
				all = append(all, r.prev[n])
			}
		}
	}
	slices.Sort(all)
	for _, v := range slices.Compact(all) {
		if v >= 0 {
			r.version[v]++
			r.push(v)
		}
	}
}

// blocked reports whether an edge besides those that go lies in a triangle or on its rim.
// Edges may end at p and q, where the new line does too, but not lead from one to the
// other.
func (r *reducer) blocked(triangle [3]orb.Point, going []int, p, q orb.Point) bool {
	box := orb.MultiPoint(triangle[:]).Bound()
	return r.edges.any(box, func(v int) bool {
		if r.version[v] < 0 || r.next[v] < 0 || slices.Contains(going, v) {
			return false
		}
		a, b := r.at[v], r.at[r.next[v]]
		atA, atB := a == p || a == q, b == p || b == q
		switch {
		case atA && atB:
			return true
		case atA:
			return inTriangle(triangle, b)
		case atB:
			return inTriangle(triangle, a)
		}
		return inTriangle(triangle, a) || inTriangle(triangle, b) || crossesTriangle(triangle, a, b)
	})
}

// inTriangle counts the rim, and what is nearer to it than rounding may be off.
func inTriangle(t [3]orb.Point, p orb.Point) bool {
	sign := turning(t[0], t[1], t[2])
	if sign < 0 {
		t[1], t[2] = t[2], t[1]
	}
	for i := range 3 {
		a, b := t[i], t[(i+1)%3]
		if turning(a, b, p) < -nearRim*math.Hypot(b[0]-a[0], b[1]-a[1]) {
			return false
		}
	}
	return sign != 0 || onLine(t, p)
}

// How far beside a line a place still counts as on it, and how far beside a chord a
// vertex may lie that goes to whatever side, m: more than a lattice rounds lines of a few
// kilometres, and nothing on the ground.
const (
	nearRim  = 1e-9
	straight = 1e-8
)

// onLine is for a triangle without ground: whether a place lies between its corners.
func onLine(t [3]orb.Point, p orb.Point) bool {
	return orb.MultiPoint(t[:]).Bound().Pad(nearRim).Contains(p)
}

// crossesTriangle reports whether an edge whose ends lie outside cuts through.
func crossesTriangle(t [3]orb.Point, a, b orb.Point) bool {
	for i := range 3 {
		c, d := t[i], t[(i+1)%3]
		if turning(a, b, c) > 0 != (turning(a, b, d) > 0) && turning(c, d, a) > 0 != (turning(c, d, b) > 0) {
			return true
		}
	}
	return false
}

// steps are a heap, the smallest first; of equal ones the first vertex.
type steps []step

func (s steps) Len() int { return len(s) }
func (s steps) Less(i, j int) bool {
	switch a, b := s[i], s[j]; {
	case a.area != b.area:
		return a.area < b.area
	case a.vertex != b.vertex:
		return a.vertex < b.vertex
	default:
		return !a.edge && b.edge
	}
}
func (s steps) Swap(i, j int) { s[i], s[j] = s[j], s[i] }
func (s *steps) Push(x any)   { *s = append(*s, x.(step)) }
func (s *steps) Pop() any {
	last := (*s)[len(*s)-1]
	*s = (*s)[:len(*s)-1]
	return last
}
