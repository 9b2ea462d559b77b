package boundary

import (
	"fmt"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/geometry/planar"
)

// overEdge are the holes of an outline that reach over the edge of what its field is in
// the end: a pond drawn across it is a notch of the field, and beyond it a pond still.
func (d *drawn) overEdge() (closed []geo.Field, err error) {
	if len(d.holes) == 0 {
		return nil, nil
	}
	var filled orb.MultiPolygon
	if !d.gone {
		for _, polygon := range d.lonlat {
			filled = append(filled, orb.Polygon{polygon[0]})
		}
		if filled, err = planar.Ground(d.frame.ForwardPolygons(filled)); err != nil {
			return nil, err
		}
	}
	for _, hole := range d.holes {
		ground, err := planar.Ground(d.frame.ForwardPolygons(orb.MultiPolygon{hole}))
		if err != nil {
			return nil, err
		}
		beyond, err := planar.Overlay([]orb.MultiPolygon{ground, filled}, func(in []bool) bool { return in[0] && !in[1] })
		if err != nil {
			return nil, err
		}
		if widest(beyond) < leastWidth {
			continue
		}
		lonlat, err := degrees(ground, d.frame)
		if err != nil {
			return nil, err
		}
		closed = append(closed, geo.Field{Name: fmt.Sprintf("hole over the edge of %s", d.name), Boundary: lonlat})
	}
	return closed, nil
}
