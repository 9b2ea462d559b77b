package handoff

import (
	"fmt"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/geometry/zones"
	"github.com/geocoris/geocoris/internal/spraying/spray"
)

// farthestBoom is how far from its own spray ground a boom could reach at the most, m:
// the widest swath and the longest run that settings allow.
const farthestBoom = 1100

// neighbours are the other fields in reach of one, in metres of its frame, those after
// it without its ground; and the m² that it shares with those before it. Shared ground
// belongs to the field that comes first in the zones: it is sprayed once.
func neighbours(fields []*field, sites []site, at int) (out []spray.Neighbour, shared float64, err error) {
	here := sites[at]
	whole, err := fields[at].metres(here.frame)
	if err != nil {
		return nil, 0, err
	}
	own := whole
	for i, f := range fields {
		if i == at || !here.near(sites[i]) {
			continue
		}
		ground, err := f.beside(sites[i].frame, here)
		if err != nil {
			return nil, 0, err
		}
		if i < at {
			own, err = spray.Less(own, ground)
		} else {
			ground, err = spray.Less(ground, whole)
		}
		if err != nil {
			return nil, 0, err
		}
		if len(ground) > 0 {
			out = append(out, spray.Neighbour{Name: f.name, Ground: ground})
		}
	}
	return out, geo.Area(whole) - geo.Area(own), nil
}

// near reports whether another field may lie in reach: by its middle, and how far it
// spreads from there at the most.
func (s site) near(other site) bool {
	if s.offMap(other.frame.Centre()) {
		return false
	}
	reach := s.bound.Pad(farthestBoom + other.bound.Max[0] - other.bound.Min[0] + other.bound.Max[1] - other.bound.Min[1])
	const degree = 110_000 // metres, one of latitude is no less (WGS 84: 110,574)
	if north := degree * (other.frame.Centre().Lat() - s.frame.Centre().Lat()); north > reach.Max[1] || north < reach.Min[1] {
		return false // most of thousands, without a projection
	}
	return reach.Contains(s.frame.Forward(other.frame.Centre()))
}

// beside is all ground of the field in the frame of another: where that is near, so that edges
// that they share fit to the last digit; else as it was put together once in its own, since a
// hundred others may be in reach.
func (f *field) beside(own geo.Frame, here site) (orb.MultiPolygon, error) {
	if f.ground == nil {
		xy, err := f.metres(own)
		if err != nil {
			return nil, err
		}
		f.ground = own.InversePolygons(xy)
	}
	ground, b := here.frame.ForwardPolygons(f.ground), here.bound
	if wide := max(b.Max[0]-b.Min[0], b.Max[1]-b.Min[1]); b.Pad(wide / 2).Intersects(geo.Bound(ground)) {
		return f.metres(here.frame)
	}
	return ground, nil
}

// metres is all ground of the field in a frame: that under its zones, or within its outline
// where that is known.
func (f *field) metres(frame geo.Frame) (orb.MultiPolygon, error) {
	if f.outline != nil {
		return laid(f.outline, frame)
	}
	var grounds []orb.MultiPolygon
	for _, zone := range zones.Classes() {
		if len(f.zones[zone.String()]) > 0 {
			ground, err := laid(f.zones[zone.String()], frame)
			if err != nil {
				return nil, err
			}
			grounds = append(grounds, ground)
		}
	}
	whole, err := spray.Together(grounds)
	if err != nil {
		return nil, fmt.Errorf("the zones of %s do not fit together: %w", f.name, err)
	}
	return whole, nil
}

// closedNear is ground that is no field within reach of one, in metres of its frame. A
// field, such as an island, that lies in it is field.
func closedNear(closed []geo.Field, here site, whole orb.MultiPolygon) (out []spray.Neighbour, err error) {
	for _, c := range closed {
		if here.offMap(c.Boundary.Bound().Center()) {
			continue
		}
		ground := here.frame.ForwardPolygons(c.Boundary)
		if !here.bound.Pad(farthestBoom).Intersects(geo.Bound(ground)) {
			continue
		}
		if ground, err = spray.Less(ground, whole); err != nil {
			return nil, fmt.Errorf("%s: %w", c.Name, err)
		}
		if len(ground) > 0 {
			out = append(out, spray.Neighbour{Name: c.Name, Ground: ground})
		}
	}
	return out, nil
}

// ClosedOf is the ground that features outline as no field, by their property name.
// One without a polygon is an error.
func ClosedOf(features []geo.Feature) (closed []geo.Field, err error) {
	for i, f := range features {
		name, _ := f.Properties.Get("name")
		field := geo.Field{Name: fmt.Sprint(name)}
		switch g := f.Geometry.(type) {
		case orb.Polygon:
			field.Boundary = orb.MultiPolygon{g}
		case orb.MultiPolygon:
			field.Boundary = g
		default:
			return nil, fmt.Errorf("feature %d is no polygon", i+1)
		}
		closed = append(closed, field)
	}
	return closed, nil
}
