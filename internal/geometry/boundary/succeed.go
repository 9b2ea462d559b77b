package boundary

import (
	"fmt"
	"slices"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
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
	var extents []extent // of s.Fields: there may be thousands
	for _, f := range fields {
		own := extentOf(f)
		r := Redrawn{Name: f.Name}
		var later []geo.Field
		for i, other := range s.Fields {
			if lapped(own.bound, extents[i].bound) >= redrawnFrom*min(own.area, extents[i].area) {
				later = append(later, other)
			}
		}
		if len(later) > 0 {
			if f.Boundary, err = r.under(f, later); err != nil {
				return s, fmt.Errorf("field %q: %w", f.Name, err)
			}
		}
		if len(r.By) > 0 {
			s.Redrawn = append(s.Redrawn, r)
		}
		if len(r.By) == 0 || r.Left > 0 {
			s.Fields, extents = append(s.Fields, f), append(extents, extentOf(f))
		}
	}
	return s, nil
}

// An extent is how far an outline goes, in degrees, and its area in squared ones.
type extent struct {
	bound orb.Bound
	area  float64
}

func extentOf(f geo.Field) extent { return extent{geo.Bound(f.Boundary), geo.Area(f.Boundary)} }

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
