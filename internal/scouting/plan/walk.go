package plan

import (
	"math/rand/v2"
	"slices"

	"github.com/paulmach/orb"
)

// walk is a tour to be found. Without a start it begins anywhere.
type walk struct {
	points []orb.Point
	start  *orb.Point
	oneWay bool
	seed   uint64
}

// order returns the points in a short walking order.
//
// The tour is closed over the points, the start, and for a one-way walk a point
// that costs nothing to reach, which makes an open way of it. It is shortened by
// 2-opt (Croes 1958, Oper. Res. 6:791–812) and Or-opt (Or 1976) until neither
// helps, then shaken by double bridges and shortened again, keeping the best
// (Martin, Otto & Felten 1991, Complex Systems 5:299–326). Beyond a hundred points
// only what the bridges touched is looked at anew (as the don't-look bits of Bentley
// 1992, ORSA J. Comput. 4:387–411, from memory, do), and all once more at the end.
func (w walk) order() []int {
	n := len(w.points)
	if n == 0 {
		return nil
	}
	t := newTour(w.costs())
	t.improve()
	t.shake(rand.New(rand.NewPCG(w.seed, 0x7761_6c6b)))
	return w.open(t.order)
}

// costs between nodes: the points, then the start, then the free end.
func (w walk) costs() [][]float64 {
	nodes := slices.Clone(w.points)
	if w.start != nil {
		nodes = append(nodes, *w.start)
	}
	n := len(nodes)
	if w.oneWay {
		n++
	}
	d := make([][]float64, n)
	for i := range d {
		d[i] = make([]float64, n)
		for j := range d[i] {
			switch {
			case i < len(nodes) && j < len(nodes):
				d[i][j] = distance(nodes[i], nodes[j])
			case i != j && w.start != nil && min(i, j) == len(w.points):
				d[i][j] = -1e7 // the free end must lie beside the start
			}
		}
	}
	return d
}

// open turns a tour over the nodes into an order of the points from the start.
func (w walk) open(tour []int) []int {
	n := len(w.points)
	read := 0 // the node from which the walk is read: the start, else the end, else the first point
	if len(tour) > n {
		read = n
	}
	first := slices.Index(tour, read)
	turned := append(slices.Clone(tour[first:]), tour[:first]...)
	if w.start != nil && w.oneWay && len(turned) > 1 && turned[1] > n { // the end stands beside the start: read the other way
		slices.Reverse(turned[1:])
	}
	return slices.DeleteFunc(turned, func(i int) bool { return i >= n })
}

// back is where the walk returns to, nil for one way.
func (w walk) back(order []int) *orb.Point {
	switch {
	case w.oneWay || len(order) == 0:
		return nil
	case w.start != nil:
		return w.start
	}
	return &w.points[order[0]]
}

// way lists the points of the whole walk in order.
func (w walk) way(order []int) (way []orb.Point) {
	if w.start != nil {
		way = append(way, *w.start)
	}
	for _, i := range order {
		way = append(way, w.points[i])
	}
	if back := w.back(order); back != nil {
		way = append(way, *back)
	}
	return way
}

// tour is a closed way over nodes with symmetric costs.
type tour struct {
	costs [][]float64
	order []int
	twice []int     // the order, twice over
	legs  []float64 // from each place there to the next

	settled [][2]int // of each node those beside it when nothing helped any more; nil looks everywhere
	fresh   []bool   // of each leg: it is not one of those
}

// newTour goes to the nearest node not yet visited.
func newTour(costs [][]float64) *tour {
	t := &tour{costs: costs, order: []int{0}}
	visited := make([]bool, len(costs))
	visited[0] = true
	for len(t.order) < len(costs) {
		at, best := t.order[len(t.order)-1], -1
		for j, d := range costs[at] {
			if !visited[j] && (best < 0 || d < costs[at][best]) {
				best = j
			}
		}
		visited[best] = true
		t.order = append(t.order, best)
	}
	return t
}

func (t *tour) length() (sum float64) {
	for i, a := range t.order {
		sum += t.costs[a][t.order[(i+1)%len(t.order)]]
	}
	return sum
}

// leastShortening is the least shortening, in metres, worth a change; below it rounding
// could turn a tour back and forth.
const leastShortening = 1e-7

func (t *tour) improve() {
	if len(t.order) < 4 {
		return
	}
	for t.twoOpt() || t.orOpt() {
	}
}

// settle remembers the tour as one that nothing shortens, so that improve looks only at
// what has changed since.
func (t *tour) settle(order []int) {
	n := len(order)
	if t.settled == nil {
		t.settled, t.fresh = make([][2]int, n), make([]bool, 2*n)
	}
	for i, a := range order {
		t.settled[a] = [2]int{order[(i+n-1)%n], order[(i+1)%n]}
	}
}

// touched tells whether any of some legs, from a place on, is a fresh one.
func (t *tour) touched(from, legs int) bool {
	return t.settled == nil || slices.Contains(t.fresh[from:from+legs], true)
}

// twoOptFresh is twoOpt for fresh legs with all others.
func (t *tour) twoOptFresh() (any bool) {
	n := len(t.order)
	t.unroll()
	for k := range n {
		for l := 0; l < n && t.fresh[k]; l++ {
			i, j := min(k, l), max(k, l)
			if j < i+2 || i == 0 && j == n-1 {
				continue
			}
			a, b, c, d := t.order[i], t.order[i+1], t.order[j], t.order[(j+1)%n]
			if t.costs[a][c]+t.costs[b][d] < t.legs[i]+t.legs[j]-leastShortening {
				t.turn(i, j)
				t.fresh[i], t.fresh[j] = true, true
				slices.Reverse(t.fresh[i+1 : j])
				any = true
			}
		}
	}
	return any
}

// twoOpt turns a stretch of the tour around wherever that shortens it.
func (t *tour) twoOpt() (any bool) {
	if t.settled != nil {
		return t.twoOptFresh()
	}
	n := len(t.order)
	t.unroll()
	for i := 0; i < n-1; i++ {
		a := t.order[i]
		fromA, fromB := t.costs[a], t.costs[t.order[i+1]]
		for j := i + 2; j < n; j++ {
			c, d := t.order[j], t.order[(j+1)%n]
			if a == d {
				continue
			}
			if fromA[c]+fromB[d] < t.legs[i]+t.legs[j]-leastShortening {
				t.turn(i, j)
				fromB, any = t.costs[c], true
			}
		}
	}
	return any
}

// turn turns what stands between the legs i and j around.
func (t *tour) turn(i, j int) {
	n := len(t.order)
	t.legs[i], t.legs[j] = t.costs[t.order[i]][t.order[j]], t.costs[t.order[i+1]][t.order[(j+1)%n]]
	slices.Reverse(t.order[i+1 : j+1])
	slices.Reverse(t.legs[i+1 : j])
}

// orOpt moves stretches of up to three nodes elsewhere, either way around.
func (t *tour) orOpt() (any bool) {
	n := len(t.order)
	t.unroll()
	for length := 1; length <= 3 && length <= n-3; length++ {
		for i := range n {
			if t.touched((i+n-1)%n, length+1) && t.moveStretch(i, length) {
				t.unroll()
				any = true
			}
		}
	}
	return any
}

// unroll lays the tour out twice, so that it can be read on from any place.
func (t *tour) unroll() {
	n := len(t.order)
	t.twice = append(append(t.twice[:0], t.order...), t.order...)
	t.legs = t.legs[:0]
	for i, a := range t.twice {
		b := t.twice[(i+1)%(2*n)]
		t.legs = append(t.legs, t.costs[a][b])
		if t.settled != nil {
			t.fresh[i] = t.settled[a][0] != b && t.settled[a][1] != b
		}
	}
}

// moveStretch moves the stretch that begins at place i to where it shortens the
// tour most. Costs are symmetric, so they are read off the rows of its two ends.
func (t *tour) moveStretch(i, length int) bool {
	n := len(t.order)
	turned := t.twice[i : i+n]
	fromHead, fromTail := t.costs[turned[0]], t.costs[turned[length-1]]
	rest, legs := turned[length:], t.legs[i+length:i+n]
	before, after := rest[len(rest)-1], rest[0]
	saved := t.costs[before][turned[0]] + t.costs[turned[length-1]][after] - t.costs[before][after]
	best, at, reversed := leastShortening, -1, false
	a := after
	for k, b := range rest[1:] {
		base := saved + legs[k]
		if gain := base - fromHead[a] - fromTail[b]; gain > best {
			best, at, reversed = gain, k, false
		}
		if gain := base - fromTail[a] - fromHead[b]; gain > best {
			best, at, reversed = gain, k, true
		}
		a = b
	}
	if at < 0 {
		return false
	}
	stretch := slices.Clone(turned[:length])
	if reversed {
		slices.Reverse(stretch)
	}
	t.order = slices.Concat(rest[:at+1], stretch, rest[at+1:])
	return true
}

// shake looks for shorter tours beyond what 2-opt and Or-opt reach.
func (t *tour) shake(random *rand.Rand) {
	n := len(t.order)
	if n < 8 {
		t.shakeSmall()
		return
	}
	best, shortest := slices.Clone(t.order), t.length()
	if n > shakenWhole {
		t.settle(best)
	}
	for range min(20*n, max(60, 200_000/n)) {
		cuts := []int{1 + random.IntN(n-1), 1 + random.IntN(n-1), 1 + random.IntN(n-1)}
		slices.Sort(cuts)
		t.order = slices.Concat(best[:cuts[0]], best[cuts[1]:cuts[2]], best[cuts[0]:cuts[1]], best[cuts[2]:])
		t.improve()
		if l := t.length(); l < shortest-leastShortening {
			best, shortest = slices.Clone(t.order), l
			if n > shakenWhole {
				t.settle(best)
			}
		}
	}
	t.order = best
	if t.settled != nil {
		t.settled = nil
		t.improve()
	}
}

// shakenWhole is up to how many nodes all legs are looked at after each bridge.
const shakenWhole = 100

// shakeSmall tries every order of up to seven nodes.
func (t *tour) shakeSmall() {
	best, shortest := slices.Clone(t.order), t.length()
	var try func(k int)
	try = func(k int) {
		if k == len(t.order) {
			if l := t.length(); l < shortest-leastShortening {
				best, shortest = slices.Clone(t.order), l
			}
			return
		}
		for i := k; i < len(t.order); i++ {
			t.order[k], t.order[i] = t.order[i], t.order[k]
			try(k + 1)
			t.order[k], t.order[i] = t.order[i], t.order[k]
		}
	}
	try(1)
	t.order = best
}
