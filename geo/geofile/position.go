package geofile

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"
)

// checkPosition refuses what is no place in degrees. NaN is none.
func checkPosition(p orb.Point) *Error {
	lon, lat := p[0], p[1]
	switch {
	case math.Abs(lon) <= 180 && math.Abs(lat) <= 90:
		return nil
	case math.Abs(lat) <= 180 && math.Abs(lon) <= 90:
		return &Error{Msg: fmt.Sprintf("%v, %v is no longitude and latitude", lon, lat), Hint: "latitude may stand before longitude: longitude comes first"}
	}
	return &Error{Msg: fmt.Sprintf("%v, %v is no longitude and latitude in degrees", lon, lat), Hint: "save it in WGS 84 longitude and latitude"}
}

// checkRing refuses rings that a polygon cannot have.
func checkRing(r orb.Ring) *Error {
	switch {
	case len(r) == 0:
		return &Error{Msg: "a ring without positions", Hint: "draw the outline anew"}
	case r[0] != r[len(r)-1]:
		return &Error{Msg: fmt.Sprintf("a ring that does not close: it begins at %v and ends at %v", r[0], r[len(r)-1]), Hint: "repeat the first position at the end"}
	case len(r) < 4:
		return &Error{Msg: fmt.Sprintf("a ring of %d positions: a closed one has four or more", len(r)), Hint: "draw the outline anew"}
	}
	return nil
}

// checkFilled refuses geometries without positions, and lines of one.
func checkFilled(g orb.Geometry) *Error {
	switch g := g.(type) {
	case orb.MultiPoint:
		return checkCount(g, len(g), 1)
	case orb.LineString:
		return checkCount(g, len(g), 2)
	case orb.MultiLineString:
		return checkParts(g, g)
	case orb.MultiPolygon:
		return checkCount(g, len(g), 1)
	case orb.Collection:
		return checkParts(g, g)
	}
	return nil // a point, or held to it by checkRing
}

func checkParts[G orb.Geometry](whole orb.Geometry, parts []G) *Error {
	for _, part := range parts {
		if err := checkFilled(part); err != nil {
			return err
		}
	}
	return checkCount(whole, len(parts), 1)
}

func checkCount(g orb.Geometry, n, least int) *Error {
	switch {
	case n >= least:
		return nil
	case n == 0:
		return &Error{Msg: fmt.Sprintf("an empty %s", g.GeoJSONType()), Hint: "write null where there is no geometry, or draw it anew"}
	}
	return &Error{Msg: fmt.Sprintf("a %s of %d position: it has %d or more", g.GeoJSONType(), n, least), Hint: "draw it anew"}
}

// checkGeometry holds a whole geometry to all of these, for writers.
func checkGeometry(g orb.Geometry) *Error {
	if err := checkFilled(g); err != nil {
		return err
	}
	switch g := g.(type) {
	case orb.Point:
		return checkPosition(g)
	case orb.MultiPoint:
		return checkPositions(orb.LineString(g))
	case orb.LineString:
		return checkPositions(g)
	case orb.MultiLineString:
		for _, line := range g {
			if err := checkPositions(line); err != nil {
				return err
			}
		}
		return nil
	case orb.Polygon:
		return checkPolygon(g)
	case orb.MultiPolygon:
		for _, p := range g {
			if err := checkPolygon(p); err != nil {
				return err
			}
		}
		return nil
	case orb.Collection:
		for _, part := range g {
			if err := checkGeometry(part); err != nil {
				return err
			}
		}
		return nil
	}
	return &Error{Msg: fmt.Sprintf("cannot write a %T", g)}
}

func checkPolygon(p orb.Polygon) *Error {
	if len(p) == 0 {
		return &Error{Msg: "a polygon without rings"}
	}
	for _, r := range p {
		if err := checkRing(r); err != nil {
			return err
		}
		if err := checkPositions(orb.LineString(r)); err != nil {
			return err
		}
	}
	return nil
}

func checkPositions(line orb.LineString) *Error {
	for _, p := range line {
		if err := checkPosition(p); err != nil {
			return err
		}
	}
	return nil
}
