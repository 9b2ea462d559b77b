package geo

import (
	"errors"
	"fmt"
	"math"

	"github.com/paulmach/orb"
)

// maxCentreLat keeps frames away from the poles, where a field may run round
// the pole and its longitudes no longer tell left from right. It is the
// northern end of UTM.
const maxCentreLat = 84

// A Frame is the plane of one field: metres east (x) and north (y) of the
// field's centre on WGS 84, by a transverse Mercator projection whose central
// meridian and latitude of origin run through the centre, at scale 1.
//
// The projection itself is good to some nanometres. What a plane costs is the
// scale away from the central meridian, 1 + x²/2R² with R near 6371 km: over a
// field 2 km wide an area is too large by at most 8 parts in 10⁹ and a length
// by less than 0.01 mm; at 20 km wide these are 8 parts in 10⁷ and 10 mm.
// Straight edges in the plane stand for geodesics, with an error of the same
// size.
//
// The zero Frame is usable: its centre is longitude 0, latitude 0.
type Frame struct {
	centre orb.Point // degrees
	origin float64   // northing of the centre from the equator, metres
}

// NewFrame returns the frame about a centre in degrees. The latitude must be
// within ±84; the longitude within ±360 and is brought into [-180, 180].
func NewFrame(centre orb.Point) (Frame, error) {
	lon, lat := centre.Lon(), centre.Lat()
	if !(math.Abs(lon) <= 360) {
		return Frame{}, fmt.Errorf("geo: centre longitude %v is not a number of degrees within ±360", lon)
	}
	if !(math.Abs(lat) <= maxCentreLat) {
		return Frame{}, fmt.Errorf("geo: centre latitude %v is not a number of degrees within ±%d; is longitude first?", lat, maxCentreLat)
	}
	return Frame{
		centre: orb.Point{wrap(lon), lat},
		origin: rectifyingRadius * project(lat, 0).xi,
	}, nil
}

// FrameOf returns the frame about the centre of a boundary's bounding box, from
// the outer rings alone, in whatever order their vertices stand. A boundary
// across the antimeridian may be written with longitudes that jump from 180 to
// -180 or that run on beyond 180: the frame is the same.
//
// A boundary without vertices, with a coordinate that is not a finite number
// of degrees, wider than 180 degrees, or centred beyond latitude ±84 is an
// error.
func FrameOf(boundary orb.MultiPolygon) (Frame, error) {
	points, err := outerPoints(boundary)
	if err != nil {
		return Frame{}, err
	}
	box := boundOf(points)
	if box.Max[0]-box.Min[0] > 180 {
		for i := range points {
			if points[i][0] < 0 {
				points[i][0] += 360
			}
		}
		box = boundOf(points)
	}
	if width := box.Max[0] - box.Min[0]; width > 180 {
		return Frame{}, fmt.Errorf("geo: boundary is %.6g degrees of longitude wide, too wide for a field; is longitude first?", width)
	}
	return NewFrame(orb.Point{(box.Min[0] + box.Max[0]) / 2, (box.Min[1] + box.Max[1]) / 2})
}

// outerPoints collects the vertices of the outer rings, longitudes brought into
// [-180, 180].
func outerPoints(boundary orb.MultiPolygon) ([]orb.Point, error) {
	var points []orb.Point
	for i, polygon := range boundary {
		if len(polygon) == 0 {
			continue
		}
		for j, p := range polygon[0] {
			if !(math.Abs(p.Lon()) <= 360 && math.Abs(p.Lat()) <= 90) {
				return nil, fmt.Errorf("geo: polygon %d, vertex %d: %v, %v is not a longitude and latitude in degrees",
					i+1, j+1, p.Lon(), p.Lat())
			}
			points = append(points, orb.Point{wrap(p.Lon()), p.Lat()})
		}
	}
	if len(points) == 0 {
		return nil, errors.New("geo: boundary has no vertices, so it has no centre")
	}
	return points, nil
}

// Centre returns the origin of the frame in degrees.
func (f Frame) Centre() orb.Point { return f.centre }

// Forward takes degrees to metres. Longitudes a full turn apart give the same
// point. Coordinates that are not finite, or a latitude beyond ±90, give NaN;
// the projection means nothing farther than about 3900 km from the centre's
// meridian.
func (f Frame) Forward(lonlat orb.Point) (xy orb.Point) {
	s := project(lonlat.Lat(), wrap(lonlat.Lon()-f.centre.Lon()))
	// The conversion forbids a fused multiply-add, so the centre is exactly 0, 0.
	return orb.Point{rectifyingRadius * s.eta, float64(rectifyingRadius*s.xi) - f.origin}
}

// Inverse takes metres to degrees, the longitude in [-180, 180]. It returns to
// the point that Forward came from within 0.1 µm of ground near the field.
// Coordinates that are not finite give NaN.
func (f Frame) Inverse(xy orb.Point) (lonlat orb.Point) {
	lat, dlon := unproject(sphere{
		xi:  (xy[1] + f.origin) / rectifyingRadius,
		eta: xy[0] / rectifyingRadius,
	})
	return orb.Point{wrap(f.centre.Lon() + dlon), lat}
}

// ForwardPolygons takes every vertex to metres, in a copy. Rings keep their
// order, and as the projection is conformal, their winding on the ground.
func (f Frame) ForwardPolygons(lonlat orb.MultiPolygon) (xy orb.MultiPolygon) {
	return mapVertices(lonlat, f.Forward)
}

// InversePolygons takes every vertex to degrees, in a copy. Nothing is cut at
// the antimeridian: the longitudes of a ring across it jump between 180 and
// -180.
func (f Frame) InversePolygons(xy orb.MultiPolygon) (lonlat orb.MultiPolygon) {
	return mapVertices(xy, f.Inverse)
}
