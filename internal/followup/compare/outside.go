package compare

import (
	"fmt"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/geometry/planar"
)

// leastInside is the least ground, m², by which a treatment lies in a field: less is how
// borders were drawn or rounded.
const leastInside = 1

// Outside are the treatments that lie in none of the fields, in their order.
func Outside(fields []geo.Field, treatments []Treatment) (out []Treatment, err error) {
	for _, t := range grouped(treatments) {
		in := false
		for _, f := range fields {
			if in, err = t.liesIn(f); err != nil {
				return nil, fmt.Errorf("treatment of %s: %w", t.Date, err)
			}
			if in {
				break
			}
		}
		if !in {
			out = append(out, t)
		}
	}
	return out, nil
}

func (t Treatment) liesIn(f geo.Field) (bool, error) {
	if !geo.Bound(f.Boundary).Intersects(t.Ground.Bound()) {
		return false, nil
	}
	frame, err := geo.FrameOf(f.Boundary)
	if err != nil {
		return false, err
	}
	ground, err := union(frame.ForwardPolygons(t.Ground))
	if err != nil {
		return false, err
	}
	field, err := planar.Ground(frame.ForwardPolygons(f.Boundary))
	if err != nil {
		return false, err
	}
	shared, err := planar.Overlay([]orb.MultiPolygon{field, ground}, func(in []bool) bool { return in[0] && in[1] })
	return geo.Area(shared) >= leastInside, err
}

// Named is a treatment by its day, and by its note where it has one.
func (t Treatment) Named() string {
	if t.Note == "" {
		return t.Date
	}
	return fmt.Sprintf("%s (%s)", t.Date, t.Note)
}
