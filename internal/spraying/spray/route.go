package spray

import (
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
	corners   []orb.Point
	sees      [][]int // corners in sight of each corner
	ready     bool
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
	if len(r.obstacles) == 0 || !r.obstacles.Bound().Intersects(orb.LineString{a, b}.Bound()) {
		return true
	}
	t := along(math.Atan2(b[0]-a[0], b[1]-a[1]) * 180 / math.Pi)
	from, to := t.into(a), t.into(b)
	inside := geo.InsideSpans(mapped(r.obstacles, t.into), from[1])
	return total(common([]geo.Span{{From: from[0], To: to[0]}}, inside)) <= overRim
}

// prepare finds the corners, and which of them see one another.
func (r *router) prepare() error {
	if r.ready {
		return nil
	}
	r.ready = true
	wide, err := planar.Grow(r.obstacles, clearance)
	if err != nil {
		return err
	}
	for off := cornersOff; ; off *= 2 {
		r.corners = nil
		for _, polygon := range wide {
			for _, ring := range polygon {
				ring = planar.SimplifiedRing(ring, off)
				r.corners = append(r.corners, ring[:len(ring)-1]...)
			}
		}
		if len(r.corners) <= mostCorners {
			break
		}
	}
	r.sees = make([][]int, len(r.corners))
	for i := range r.corners {
		for k := range i {
			if r.free(r.corners[i], r.corners[k]) {
				r.sees[i], r.sees[k] = append(r.sees[i], k), append(r.sees[k], i)
			}
		}
	}
	return nil
}

// shortest goes by way of corners (Dijkstra 1959).
func (r *router) shortest(a, b orb.Point) orb.LineString {
	n := len(r.corners)
	far, from, done := make([]float64, n), make([]int, n), make([]bool, n)
	for i, c := range r.corners {
		far[i], from[i] = math.Inf(1), -1
		if r.free(a, c) {
			far[i] = apart(a, c)
		}
	}
	best, last := math.Inf(1), -1
	for {
		at := -1
		for i := range far {
			if !done[i] && !math.IsInf(far[i], 1) && (at < 0 || far[i] < far[at]) {
				at = i
			}
		}
		if at < 0 || far[at] >= best {
			break
		}
		done[at] = true
		if d := far[at] + apart(r.corners[at], b); d < best && r.free(r.corners[at], b) {
			best, last = d, at
		}
		for _, k := range r.sees[at] {
			if d := far[at] + apart(r.corners[at], r.corners[k]); d < far[k] {
				far[k], from[k] = d, at
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
