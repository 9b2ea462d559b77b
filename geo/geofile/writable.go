package geofile

import (
	"fmt"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
)

// writable is the gate that every geometry passes on its way out: a copy with
// positions rounded to seven decimals, repeated ones dropped, outer rings
// counter-clockwise and holes clockwise. Rounding comes first, as it may turn a
// thin ring over or close it up. Holes and parts that it leaves without area or
// length (narrower than 11 mm) are dropped; a geometry of which nothing is left is
// an error, as is what a reader would refuse.
//
// Nothing is cut at the antimeridian: a step over more than 180 degrees of
// longitude is an error, too.
func writable(g orb.Geometry) (orb.Geometry, *Error) {
	if err := checkGeometry(g); err != nil {
		return nil, err
	}
	g = settle(mapGeometry(g, func(p orb.Point) orb.Point { return orb.Point{rounded(p[0]), rounded(p[1])} }))
	if g == nil {
		return nil, &Error{Msg: fmt.Sprintf("nothing of it is left at %d decimals", decimals), Hint: "leave it out"}
	}
	return g, checkSteps(g)
}

// settle drops what rounding left without extent, in place, and winds. It is nil
// where nothing is left.
func settle(g orb.Geometry) orb.Geometry {
	switch g := g.(type) {
	case orb.LineString:
		if line := slices.Compact(g); len(line) > 1 {
			return line
		}
		return nil
	case orb.MultiLineString:
		return filled(settleEach(g))
	case orb.Polygon:
		if rings := settlePolygon(g); rings != nil {
			return geo.Wind(orb.MultiPolygon{rings})[0]
		}
		return nil
	case orb.MultiPolygon:
		return filled(settleEach(g))
	case orb.Collection:
		return filled(settleEach(g))
	}
	return g
}

// settleEach keeps the parts of which something is left.
func settleEach[S ~[]G, G orb.Geometry](parts S) S {
	var kept S
	for _, part := range parts {
		if settled := settle(part); settled != nil {
			kept = append(kept, settled.(G))
		}
	}
	return kept
}

// filled is a geometry of parts, or nil where there are none.
func filled[S interface {
	~[]G
	orb.Geometry
}, G any](parts S) orb.Geometry {
	if len(parts) == 0 {
		return nil
	}
	return parts
}

// settlePolygon is nil where the outer ring has no area left.
func settlePolygon(p orb.Polygon) orb.Polygon {
	var kept orb.Polygon
	for i, r := range p {
		r = slices.Compact(r)
		switch hasArea := len(r) > 3 && geo.Area(orb.MultiPolygon{{r}}) > 0; {
		case hasArea:
			kept = append(kept, r)
		case i == 0:
			return nil
		}
	}
	return kept
}

// checkSteps refuses lines across the antimeridian.
func checkSteps(g orb.Geometry) *Error {
	switch g := g.(type) {
	case orb.LineString:
		return checkStepsOf(g)
	case orb.MultiLineString:
		return checkStepsOfEach(g)
	case orb.Ring:
		return checkStepsOf(g)
	case orb.Polygon:
		return checkStepsOfEach(g)
	case orb.MultiPolygon:
		return checkStepsOfEach(g)
	case orb.Collection:
		return checkStepsOfEach(g)
	}
	return nil
}

func checkStepsOfEach[G orb.Geometry](parts []G) *Error {
	for _, part := range parts {
		if err := checkSteps(part); err != nil {
			return err
		}
	}
	return nil
}

func checkStepsOf(line []orb.Point) *Error {
	for i := 1; i < len(line); i++ {
		if math.Abs(line[i][0]-line[i-1][0]) > 180 {
			return &Error{Msg: fmt.Sprintf("a step over more than 180 degrees of longitude, from %v to %v", line[i-1], line[i]), Hint: "cut it at the antimeridian"}
		}
	}
	return nil
}
