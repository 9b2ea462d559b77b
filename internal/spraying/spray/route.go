package spray

import (
	"math"

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
	views     []view   // from each corner
	discs     []disc   // in the obstacles
	discsNear *nearby.Cells
	looked    []int       // at each part, by the number of the question
	asked     int         // questions
	turned    orb.Polygon // room for one part
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
	r.boxes, r.looked = nearby.OfBoxes(boxes), make([]int, len(r.parts))
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
	r.asked++
	for i := range r.boxes.Along(a, b) {
		if r.looked[i] == r.asked {
			continue
		}
		r.looked[i] = r.asked
		if !t.passes(from, to[0], r.bounds[i]) {
			continue
		}
		spans := geo.InsideSpans(orb.MultiPolygon{r.seenAlong(t, r.parts[i])}, from[1])
		if total(common(way, spans)) > overRim {
			return false
		}
		inside = append(inside, spans...)
	}
	return total(common(way, united(inside))) <= overRim
}

// passes reports whether a line of the turned plane, from a place along to another x, may
// meet an upright box of the plane as it was.
func (t turned) passes(from orb.Point, to float64, box orb.Bound) bool {
	centre, wide, high := t.into(box.Center()), (box.Max[0]-box.Min[0])/2, (box.Max[1]-box.Min[1])/2
	along := math.Abs(float64(wide*t.sin)) + math.Abs(float64(high*t.cos)) + step
	across := math.Abs(float64(wide*t.cos)) + math.Abs(float64(high*t.sin)) + step
	return math.Abs(centre[1]-from[1]) <= across && centre[0]+along >= from[0] && centre[0]-along <= to
}

// seenAlong is a polygon as [mapped] has it, good until the next is asked for.
func (r *router) seenAlong(t turned, polygon orb.Polygon) orb.Polygon {
	for len(r.turned) < len(polygon) {
		r.turned = append(r.turned, nil)
	}
	for j, ring := range polygon {
		r.turned[j] = r.turned[j][:0]
		for _, p := range ring {
			r.turned[j] = append(r.turned[j], t.into(p))
		}
	}
	return r.turned[:len(polygon)]
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
	r.near, r.sights, r.views = nearby.Of(at, 0), make([]sights, len(at)), make([]view, len(at))
	r.findDiscs()
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
