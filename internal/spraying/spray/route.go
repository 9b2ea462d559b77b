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
	corner int
	from   int // corner, or -1 for the start
	number int // in the order in which they were found
}

// shortest goes by way of corners (Dijkstra 1959). Whether a piece is free is looked at
// when a way would be taken, as most are not.
func (r *router) shortest(a, b orb.Point) orb.LineString {
	from, done := make([]int, len(r.corners)), make([]bool, len(r.corners))
	best, last := math.Inf(1), -1
	var queue reaches
	found := 0
	add := func(far float64, corner, by int) {
		if far+apart(r.corners[corner], b) < best {
			heap.Push(&queue, reach{far, corner, by, found})
			found++
		}
	}
	for i, c := range r.corners {
		add(apart(a, c), i, -1)
	}
	for len(queue) > 0 {
		at := heap.Pop(&queue).(reach)
		if at.far >= best {
			break
		}
		if done[at.corner] || at.from < 0 && !r.free(a, r.corners[at.corner]) || at.from >= 0 && !r.see(at.from, at.corner) {
			continue
		}
		done[at.corner], from[at.corner] = true, at.from
		if d := at.far + apart(r.corners[at.corner], b); d < best && r.free(r.corners[at.corner], b) {
			best, last = d, at.corner
		}
		for k := range r.corners {
			if !done[k] {
				add(at.far+apart(r.corners[at.corner], r.corners[k]), k, at.corner)
			}
		}
	}
	if last < 0 {
		return nil
	}
	way := orb.LineString{b}
	for at := last; at >= 0; at = from[at] {
		way = append(way, r.corners[at])
	}
	way = append(way, a)
	slices.Reverse(way)
	return way
}

// reaches are a heap, the nearest first; of equal ones the first corner, by the way that
// was found first.
type reaches []reach

func (s reaches) Len() int { return len(s) }
func (s reaches) Less(i, j int) bool {
	switch a, b := s[i], s[j]; {
	case a.far != b.far:
		return a.far < b.far
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
