package boundary

import (
	"fmt"
	"slices"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/geometry/nearby"
	"github.com/geocoris/geocoris/internal/geometry/planar"
)

const (
	// sameGround is the share of a field that another has to cover to stand for it: hands that
	// draw a field twice differ by less (our choice).
	sameGround = 0.9
	// redrawnFrom is the share of the smaller of two fields that they have in common from which on
	// one was drawn over the other, and not beside it (our choice).
	redrawnFrom = 0.1
)

// A Succession is what fields of several years or visits are by their ground, where some were
// renamed, split or joined meanwhile.
type Succession struct {
	Fields  []geo.Field // without those that others stand for, in their order
	Redrawn []Redrawn
}

// A Redrawn is a field that later ones were drawn over.
type Redrawn struct {
	Name string
	By   []string // in the order of the fields
	Same bool     // by one alone that is the same ground: it was renamed
	Left float64  // m² that are its own still; 0 where it is gone
}

// Succeed tells which ground is whose of fields that are given with the latest drawing first:
// each keeps what no later one has. What a later one has too goes to it, if that is a tenth of
// the smaller of both; a field of which less than a tenth is left is gone. Fields that touch, or
// lap over one another as hands are off, stay as they are.
func Succeed(fields []geo.Field) (s Succession, err error) {
	all := newDrawings(fields)
	for i, f := range fields {
		later := all.over(f, func(k int) bool { return k < i && !all.gone[k] })
		r, left, err := redrawn(f, later)
		if err != nil {
			return s, err
		}
		if len(r.By) > 0 {
			s.Redrawn, f.Boundary = append(s.Redrawn, r), left
			all.gone[i] = r.Left == 0
			all.fields[i], all.extents[i] = f, extentOf(f)
		}
		if !all.gone[i] {
			s.Fields = append(s.Fields, f)
		}
	}
	return s, nil
}

// RedrawnBy tells which fields were drawn over by later ones, whatever lies on one another among
// either.
func RedrawnBy(fields, later []geo.Field) (all []Redrawn, err error) {
	drawn := newDrawings(later)
	for _, f := range fields {
		r, _, err := redrawn(f, drawn.over(f, func(int) bool { return true }))
		if err != nil {
			return nil, err
		}
		if len(r.By) > 0 {
			all = append(all, r)
		}
	}
	return all, nil
}

// drawings finds fields that may have ground in common with one: there may be thousands.
type drawings struct {
	fields  []geo.Field
	extents []extent
	boxes   *nearby.Boxes // as they were given
	gone    []bool
}

func newDrawings(fields []geo.Field) *drawings {
	d := &drawings{fields: slices.Clone(fields), gone: make([]bool, len(fields))}
	var boxes []nearby.Box
	for _, f := range fields {
		e := extentOf(f)
		d.extents, boxes = append(d.extents, e), append(boxes, e.box())
	}
	d.boxes = nearby.OfBoxes(boxes)
	return d
}

// over are those of some that lap over a field by their bounds, in their order.
func (d *drawings) over(f geo.Field, of func(number int) bool) (all []geo.Field) {
	own := extentOf(f)
	numbers := slices.Sorted(d.boxes.Touching(own.box()))
	for _, k := range slices.Compact(numbers) {
		if e := d.extents[k]; of(k) && lapped(own.bound, e.bound) >= redrawnFrom*min(own.area, e.area) {
			all = append(all, d.fields[k])
		}
	}
	return all
}

// redrawn is what became of a field under later ones, and what it keeps of its ground.
func redrawn(f geo.Field, later []geo.Field) (r Redrawn, left orb.MultiPolygon, err error) {
	r = Redrawn{Name: f.Name}
	if len(later) == 0 {
		return r, f.Boundary, nil
	}
	if left, err = r.under(f, later); err != nil {
		return r, nil, fmt.Errorf("field %q: %w", f.Name, err)
	}
	return r, left, nil
}

// An extent is how far an outline goes, in degrees, and its area in squared ones.
type extent struct {
	bound orb.Bound
	area  float64
}

func extentOf(f geo.Field) extent { return extent{geo.Bound(f.Boundary), geo.Area(f.Boundary)} }

func (e extent) box() nearby.Box { return nearby.Box{Min: e.bound.Min, Max: e.bound.Max} }

// lapped is how much ground two bounds have in common, in squared degrees; 0 where one goes round
// the globe, as that of an outline across the 180th meridian.
func lapped(x, y orb.Bound) float64 {
	wide := min(x.Max[0], y.Max[0]) - max(x.Min[0], y.Min[0])
	high := min(x.Max[1], y.Max[1]) - max(x.Min[1], y.Min[1])
	if x.Max[0]-x.Min[0] > 180 || y.Max[0]-y.Min[0] > 180 {
		return 0
	}
	return max(wide, 0) * max(high, 0)
}

// under is what a field keeps of its ground under later ones.
func (r *Redrawn) under(f geo.Field, later []geo.Field) (orb.MultiPolygon, error) {
	frame, err := geo.FrameOf(f.Boundary)
	if err != nil {
		return nil, err
	}
	own, err := planar.Ground(frame.ForwardPolygons(f.Boundary))
	if err != nil {
		return nil, err
	}
	area, grounds := geo.Area(own), []orb.MultiPolygon{own}
	for _, other := range later {
		ground, err := planar.Ground(frame.ForwardPolygons(other.Boundary))
		if err != nil {
			return nil, err
		}
		shared, err := both(own, ground)
		if err != nil {
			return nil, err
		}
		of, whole := geo.Area(shared), geo.Area(ground)
		if of < redrawnFrom*min(area, whole) {
			continue
		}
		grounds, r.By = append(grounds, ground), append(r.By, other.Name)
		r.Same = len(r.By) == 1 && of >= sameGround*max(area, whole)
	}
	if len(r.By) == 0 {
		return f.Boundary, nil
	}
	left, err := planar.Overlay(grounds, func(in []bool) bool { return in[0] && !slices.Contains(in[1:], true) })
	if err != nil {
		return nil, err
	}
	left = planar.WithoutSpikes(left, leastWidth)
	if r.Left = geo.Area(left); r.Left < (1-sameGround)*area {
		r.Left = 0
		return nil, nil
	}
	return degrees(left, frame)
}

// Covered is the share of a field's ground that lies in others, which do not lie on one another.
func Covered(f geo.Field, by []geo.Field) (share float64, err error) {
	frame, err := geo.FrameOf(f.Boundary)
	if err != nil {
		return 0, err
	}
	own, err := planar.Ground(frame.ForwardPolygons(f.Boundary))
	if err != nil {
		return 0, err
	}
	for _, other := range by {
		if lapped(geo.Bound(f.Boundary), geo.Bound(other.Boundary)) == 0 {
			continue
		}
		ground, err := planar.Ground(frame.ForwardPolygons(other.Boundary))
		if err != nil {
			return 0, err
		}
		shared, err := both(own, ground)
		if err != nil {
			return 0, err
		}
		share += geo.Area(shared) / geo.Area(own)
	}
	return share, nil
}

// StandsFor reports whether fields that cover a share of one stand for it.
func StandsFor(share float64) bool { return share >= sameGround }
