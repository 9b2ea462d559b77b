package spray

import (
	"container/heap"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/geometry/planar"
)

// router finds short ways round obstacles. Corners to turn at are looked for when the
// first way is not straight.
type router struct {
	obstacles orb.MultiPolygon
	bounds    []orb.Bound // of each obstacle
	corners   []orb.Point
	ready     bool
	sees      map[[2]int]bool // whether a corner sees another, of those asked for
}

func newRouter(obstacles orb.MultiPolygon) *router {
	r := &router{obstacles: obstacles, sees: map[[2]int]bool{}}
	for _, polygon := range obstacles {
		r.bounds = append(r.bounds, polygon.Bound())
	}
	return r
}

// How far ways stay off obstacles where they bend round them, m, how far their corners may
// be off, and how much of a way may lie over the rim of an obstacle, where passes end.
const (
	clearance   = 1.0
	cornersOff  = 0.4
	overRim     = 0.05
	mostCorners = 400
)

// way is the shortest way from a to b in straight pieces that crosses no obstacle, at
// corners near these; nil where none leads there, and a alone where b is at the same place.
func (r *router) way(a, b orb.Point) (orb.LineString, error) {
	if apart(a, b) < step {
		return orb.LineString{a}, nil
	}
	if r.free(a, b) {
		return orb.LineString{a, b}, nil
	}
	if err := r.prepare(); err != nil {
		return nil, err
	}
	return r.shortest(a, b), nil
}

// free reports whether nothing lies between.
func (r *router) free(a, b orb.Point) bool {
	t := along(math.Atan2(b[0]-a[0], b[1]-a[1]) * 180 / math.Pi)
	from, to := t.into(a), t.into(b)
	box := orb.LineString{a, b}.Bound()
	var inside []geo.Span
	for i, bound := range r.bounds {
		if !bound.Intersects(box) {
			continue
		}
		middle := t.into(bound.Center())
		if half := apart(bound.Min, bound.Max) / 2; math.Abs(middle[1]-from[1]) > half+step {
			continue
		}
		inside = append(inside, geo.InsideSpans(mapped(r.obstacles[i:i+1], t.into), from[1])...)
	}
	return total(common([]geo.Span{{From: from[0], To: to[0]}}, united(inside))) <= overRim
}

// prepare finds the corners: no more than [mostCorners], or as few as there can be.
func (r *router) prepare() error {
	if r.ready {
		return nil
	}
	r.ready = true
	wide, err := planar.Grow(r.obstacles, clearance)
	if err != nil {
		return err
	}
	box := geo.Bound(wide)
	for off, farthest := cornersOff, apart(box.Min, box.Max); off <= max(farthest, cornersOff); off *= 2 {
		if corners := cornersOf(wide, off); r.corners == nil || len(corners) < len(r.corners) {
			r.corners = corners
		}
		if len(r.corners) <= mostCorners {
			break
		}
	}
	return nil
}

// cornersOf are those of rings that may be off by so much.
func cornersOf(wide orb.MultiPolygon, off float64) (corners []orb.Point) {
	for _, polygon := range wide {
		for _, ring := range polygon {
			ring = planar.SimplifiedRing(ring, off)
			corners = append(corners, ring[:len(ring)-1]...)
		}
	}
	return corners
}

// see reports whether nothing lies between two corners.
func (r *router) see(i, k int) bool {
	key := [2]int{max(i, k), min(i, k)}
	sees, known := r.sees[key]
	if !known {
		sees = r.free(r.corners[key[0]], r.corners[key[1]])
		r.sees[key] = sees
	}
	return sees
}

// A reach is a way to a corner, the last piece of which may not be free.
type reach struct {
	far    float64
	least  float64 // how far it is by it to the end at least
	corner int
	from   int // corner, or -1 for the start
	number int // in the order in which they were found
}

// shortest is by way of corners; nil where none leads there. A search that has gone on for
// long is joined by one from the end: in a small place that nothing leads out of, one of the
// two is soon at its end, and else all corners would be looked at.
func (r *router) shortest(a, b orb.Point) orb.LineString {
	there, back := r.search(a, b), r.search(b, a)
	for n := 0; there.goesOn(); n++ {
		if n >= len(r.corners) && !back.goesOn() && back.last < 0 {
			return nil
		}
	}
	return there.way()
}

// A search is one for the shortest way by corners, those first by which the end may be
// nearest (A*: Hart, Nilsson & Raphael 1968). Whether a piece is free is looked at when a
// way would be taken, as most are not.
type search struct {
	*router
	a, b  orb.Point
	from  []int // the corner before each, -1 for the start
	done  []bool
	best  float64
	last  int // the corner before the end by the best way; -1 for none
	queue reaches
	found int
}

func (r *router) search(a, b orb.Point) *search {
	s := &search{router: r, a: a, b: b, from: make([]int, len(r.corners)), done: make([]bool, len(r.corners)), best: math.Inf(1), last: -1}
	for i, c := range r.corners {
		s.add(apart(a, c), i, -1)
	}
	return s
}

func (s *search) add(far float64, corner, by int) {
	if least := far + apart(s.corners[corner], s.b); least < s.best {
		heap.Push(&s.queue, reach{far, least, corner, by, s.found})
		s.found++
	}
}

// goesOn takes the next corner, and reports whether there may be a shorter way yet.
func (s *search) goesOn() bool {
	if len(s.queue) == 0 {
		return false
	}
	at := heap.Pop(&s.queue).(reach)
	if at.least >= s.best {
		s.queue = nil
		return false
	}
	if s.done[at.corner] || !s.leads(at) {
		return true
	}
	s.done[at.corner], s.from[at.corner] = true, at.from
	if s.free(s.corners[at.corner], s.b) {
		s.best, s.last = at.least, at.corner
	}
	for k := range s.corners {
		if !s.done[k] {
			s.add(at.far+apart(s.corners[at.corner], s.corners[k]), k, at.corner)
		}
	}
	return true
}

// leads reports whether the last piece of a reach is free.
func (s *search) leads(at reach) bool {
	if at.from < 0 {
		return s.free(s.a, s.corners[at.corner])
	}
	return s.see(at.from, at.corner)
}

func (s *search) way() orb.LineString {
	if s.last < 0 {
		return nil
	}
	way := orb.LineString{s.b}
	for at := s.last; at >= 0; at = s.from[at] {
		way = append(way, s.corners[at])
	}
	way = append(way, s.a)
	slices.Reverse(way)
	return way
}

// reaches are a heap, the shortest first; of equal ones the first corner, by the way that
// was found first.
type reaches []reach

func (s reaches) Len() int { return len(s) }
func (s reaches) Less(i, j int) bool {
	switch a, b := s[i], s[j]; {
	case a.least != b.least:
		return a.least < b.least
	case a.corner != b.corner:
		return a.corner < b.corner
	default:
		return a.number < b.number
	}
}
func (s reaches) Swap(i, j int) { s[i], s[j] = s[j], s[i] }
func (s *reaches) Push(x any)   { *s = append(*s, x.(reach)) }
func (s *reaches) Pop() any {
	last := (*s)[len(*s)-1]
	*s = (*s)[:len(*s)-1]
	return last
}
