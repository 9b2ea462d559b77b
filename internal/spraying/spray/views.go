package spray

import (
	"math"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/geometry/nearby"
	"github.com/geocoris/geocoris/internal/geometry/planar"
)

// A view is which corners may be seen from a place. Among many obstacles those are few of
// all, and to look over each of the others to see it hidden would take most of the time.
type view struct {
	corners []int32 // all that are seen, and some that are not
	to      float64 // of those no farther, m; +Inf where that is all
}

// mostKept is how many corners of a view are kept: where little hides, there are as many as
// corners from each of them.
const mostKept = 512

// view is that from a place, no less far than told. It is kept in before.
func (r *router) view(before *view, p orb.Point, to float64) view {
	if before.to >= to {
		return *before
	}
	v := r.look(p, max(to, 2*before.to))
	if len(v.corners) <= mostKept {
		*before = v
	}
	return v
}

// How far is looked at first for what hides the rest, m, and so many times as far next.
const (
	firstLook   = 50.0
	lookFarther = 1.25
)

// look finds the corners that may be seen, no farther than told or a little: those that no
// disc hides.
func (r *router) look(p orb.Point, to float64) view {
	to = max(to, firstLook)
	far, before, hides := firstLook, 0.0, newHides()
	for {
		for i := range r.discsNear.Near(p[0], p[1], far) {
			if off := apart(r.discs[i].centre, p); before <= off && off < far {
				hides.by(r.discs[i], p)
			}
		}
		if far >= to || far >= hides.end() {
			break
		}
		before, far = far, min(lookFarther*far, to)
	}
	v, looked := view{to: far}, 0
	for k := range r.near.Near(p[0], p[1], far) {
		looked++
		if at := r.corners[k]; !hides.hidden(at, p) {
			v.corners = append(v.corners, int32(k))
		}
	}
	if looked == len(r.corners) || far >= hides.end() {
		v.to = math.Inf(1)
	}
	return v
}

// A disc lies in an obstacle: whatever leads across its middle is not free.
type disc struct {
	centre orb.Point
	radius float64
}

// chordOver is how much of a line within a disc makes it not free, m: twice what is allowed,
// for rounding.
const chordOver = 2 * overRim

// discIn is a large one in a part of an obstacle; ok is false where none is large enough to
// hide anything. No border leads through it, so that all of it is inside if its middle is.
func discIn(part orb.Polygon) (d disc, ok bool) {
	ground := orb.MultiPolygon{part}
	d.centre = planar.InsidePoint(part)
	d.radius = geo.DistanceToEdge(ground, d.centre)
	if !geo.Contains(ground, d.centre) {
		return d, false
	}
	bound := part.Bound()
	for step := apart(bound.Min, bound.Max) / 8; step > d.radius/16; step /= 2 {
		for _, to := range [...]orb.Point{{step, 0}, {-step, 0}, {0, step}, {0, -step}} {
			p := orb.Point{d.centre[0] + to[0], d.centre[1] + to[1]}
			if off := geo.DistanceToEdge(ground, p); off > d.radius && geo.Contains(ground, p) {
				d = disc{p, off}
			}
		}
	}
	return d, d.radius > chordOver
}

// findDiscs fills in what hides corners.
func (r *router) findDiscs() {
	var at [][2]float64
	for _, part := range r.parts {
		if d, ok := discIn(part); ok {
			r.discs, at = append(r.discs, d), append(at, d.centre)
		}
	}
	r.discsNear = nearby.Of(at, 0)
}

// directions is into how many of them a view is parted.
const directions = 720

// hides are from where on nothing is seen in each direction from a place, m: all between
// its two ends is hidden.
type hides [directions]float64

func newHides() *hides {
	h := &hides{}
	for i := range h {
		h[i] = math.Inf(1)
	}
	return h
}

// by has a disc hide what lies behind it.
func (h *hides) by(d disc, p orb.Point) {
	x, y, far := d.centre[0]-p[0], d.centre[1]-p[1], apart(d.centre, p)
	if !(far > d.radius) {
		return
	}
	// A line that passes the middle of the disc by less has enough of it within.
	sin := math.Sqrt(float64(d.radius*d.radius)-chordOver*chordOver/4) / far
	cos := math.Sqrt(1 - float64(sin*sin))
	from := direction(float64(x*cos)+float64(y*sin), float64(y*cos)-float64(x*sin))
	to := direction(float64(x*cos)-float64(y*sin), float64(y*cos)+float64(x*sin))
	if to < from {
		to += directions
	}
	for k := int(math.Ceil(from + hair)); float64(k+1) <= to-hair; k++ {
		at := &h[k%directions]
		*at = min(*at, far+d.radius)
	}
}

// direction is that of a vector with length, in [0, directions): it rises with the angle from
// the x axis on, but not evenly, which takes no arc tangent.
func direction(x, y float64) float64 {
	quarter := 0.0
	switch {
	case y >= 0 && x >= 0:
		quarter = y / (x + y)
	case y >= 0:
		quarter = 1 - x/(y-x)
	case x < 0:
		quarter = 2 + y/(x+y)
	default:
		quarter = 3 + x/(x-y)
	}
	return quarter * directions / 4
}

// hidden reports whether a place other than p lies behind a disc.
func (h *hides) hidden(at, p orb.Point) bool {
	return at != p && apart(at, p) > h[int(direction(at[0]-p[0], at[1]-p[1]))%directions]+hair
}

// end is from where on nothing is seen in any direction.
func (h *hides) end() float64 {
	end := 0.0
	for _, from := range h {
		end = max(end, from)
	}
	return end + hair
}
