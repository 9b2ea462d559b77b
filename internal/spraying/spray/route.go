package spray

import (
	"math"
	"slices"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/geometry/nearby"
	"github.com/geocoris/geocoris/internal/geometry/planar"
)

// router finds short ways round obstacles. Corners to turn at are looked for when the
// first way is not straight.
type router struct {
	obstacles orb.MultiPolygon
	parts     []orb.Polygon // the obstacles in pieces
	bounds    []orb.Bound   // of each part
	boxes     *nearby.Boxes // likewise
	corners   []orb.Point
	near      *nearby.Cells // of the corners
	ready     bool
	sights    []sights // from each corner to those before it
}

func newRouter(obstacles orb.MultiPolygon) *router {
	r := &router{obstacles: obstacles}
	var boxes []nearby.Box
	for _, polygon := range obstacles {
		r.parts = append(r.parts, pieces(polygon)...)
	}
	for _, part := range r.parts {
		bound := part.Bound()
		r.bounds, boxes = append(r.bounds, bound), append(boxes, nearby.Box{Min: bound.Min, Max: bound.Max})
	}
	r.boxes = nearby.OfBoxes(boxes)
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
	way := []geo.Span{{From: from[0], To: to[0]}}
	var inside []geo.Span
	var looked []int
	for i := range r.boxes.Along(a, b) {
		if slices.Contains(looked, i) {
			continue
		}
		looked = append(looked, i)
		bound := r.bounds[i]
		if half := apart(bound.Min, bound.Max) / 2; math.Abs(t.into(bound.Center())[1]-from[1]) > half+step {
			continue
		}
		spans := geo.InsideSpans(mapped(r.parts[i:i+1], t.into), from[1])
		if total(common(way, spans)) > overRim {
			return false
		}
		inside = append(inside, spans...)
	}
	return total(common(way, united(inside))) <= overRim
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
	at := make([][2]float64, len(r.corners))
	for i, corner := range r.corners {
		at[i] = corner
	}
	r.near, r.sights = nearby.Of(at, 0), make([]sights, len(at))
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

// shortest is by way of corners; nil where none leads there. A search that has gone on for
// long is joined by one from the end: in a small place that nothing leads out of, one of the
// two is soon at its end, and else all corners would be looked at.
func (r *router) shortest(a, b orb.Point) orb.LineString {
	there := r.search(a, b)
	var back *search
	for n := 0; there.goesOn(); n++ {
		switch {
		case n < len(r.corners):
			continue
		case back == nil:
			back = r.search(b, a)
		}
		if !back.goesOn() && back.last < 0 {
			return nil
		}
	}
	return there.way()
}
