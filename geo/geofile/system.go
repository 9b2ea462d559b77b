package geofile

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
)

// system takes a file's coordinates to longitude and latitude on WGS 84. nil is
// for files that are in those already.
type system func(orb.Point) orb.Point

// degrees applies the system, and refuses what then is no place.
func (s system) degrees(p orb.Point) (orb.Point, *Error) {
	if s != nil {
		p = s(p)
	}
	return p, checkPosition(p)
}

// wgs84 are the ends of names that mean longitude and latitude on WGS 84. EPSG
// 4326 has latitude first on paper; files that name it have longitude first all
// the same.
var wgs84 = []string{"crs84", "epsg::4326", "epsg:4326", "epsg/0/4326"}

// epsgUTM are the codes of UTM zones on WGS 84, north 326 and south 327.
var epsgUTM = regexp.MustCompile(`(?i)epsg\D+(?:\d+/)?32([67])(\d\d)$`)

// systemNamed knows WGS 84 and its UTM zones by their names in a crs member or a
// code of EPSG; any other is refused by its name.
func systemNamed(name string) (system, error) {
	for _, known := range wgs84 {
		if strings.HasSuffix(strings.ToLower(name), known) {
			return nil, nil
		}
	}
	if m := epsgUTM.FindStringSubmatch(name); m != nil {
		zone, _ := strconv.Atoi(m[2])
		return utmSystem(zone, m[1] == "6")
	}
	return nil, otherSystem(name)
}

func otherSystem(name string) error {
	return &Error{Msg: fmt.Sprintf("its coordinates are in %s", name), Hint: "save it in WGS 84 longitude and latitude, or in a UTM zone on WGS 84"}
}

func utmSystem(zone int, north bool) (system, error) {
	u, err := geo.NewUTM(zone, north)
	if err != nil {
		return nil, &Error{Msg: err.Error()}
	}
	return u.Inverse, nil
}

// wktParameter is one number of a projection in well-known text of 2001.
var wktParameter = regexp.MustCompile(`(?i)PARAMETER\["([^"]+)",([-+.\dE]+)\]`)

// wktName is the name of the outermost system.
var wktName = regexp.MustCompile(`^\s*\w+\["([^"]*)"`)

// systemOfWKT reads the .prj of a Shapefile: degrees on WGS 84, or a transverse
// Mercator with the figures of a UTM zone on it.
func systemOfWKT(text string) (system, error) {
	name := "an unnamed system"
	if m := wktName.FindStringSubmatch(text); m != nil {
		name = m[1]
	}
	upper := strings.ToUpper(strings.ReplaceAll(text, " ", "_"))
	if !strings.Contains(upper, "WGS_1984") && !strings.Contains(upper, "WGS_84") {
		return nil, otherSystem(name)
	}
	if strings.HasPrefix(strings.TrimSpace(upper), "GEOGC") {
		return nil, nil
	}
	parameters := map[string]float64{}
	for _, m := range wktParameter.FindAllStringSubmatch(text, -1) {
		parameters[strings.ToLower(m[1])], _ = strconv.ParseFloat(m[2], 64)
	}
	zone := (parameters["central_meridian"] + 183) / 6
	northing := parameters["false_northing"]
	metres := strings.Contains(upper, `UNIT["METER",1`) || strings.Contains(upper, `UNIT["METRE",1`)
	isUTM := strings.Contains(upper, "TRANSVERSE_MERCATOR") && metres && zone == math.Trunc(zone) &&
		parameters["scale_factor"] == 0.9996 && parameters["false_easting"] == 500000 &&
		parameters["latitude_of_origin"] == 0 && (northing == 0 || northing == 1e7)
	if !isUTM {
		return nil, otherSystem(name)
	}
	return utmSystem(int(zone), northing == 0)
}

// reproject takes every position of a geometry to degrees.
func (s system) reproject(g orb.Geometry) (orb.Geometry, *Error) {
	var failed *Error
	at := func(p orb.Point) orb.Point {
		q, err := s.degrees(p)
		if err != nil && failed == nil {
			failed = err
		}
		return q
	}
	return mapGeometry(g, at), failed
}

// mapGeometry replaces every position, in a copy.
func mapGeometry(g orb.Geometry, at func(orb.Point) orb.Point) orb.Geometry {
	line := func(ps []orb.Point) []orb.Point {
		out := make([]orb.Point, len(ps))
		for i, p := range ps {
			out[i] = at(p)
		}
		return out
	}
	polygon := func(p orb.Polygon) orb.Polygon {
		out := make(orb.Polygon, len(p))
		for i, r := range p {
			out[i] = line(r)
		}
		return out
	}
	switch g := g.(type) {
	case orb.Point:
		return at(g)
	case orb.MultiPoint:
		return orb.MultiPoint(line(g))
	case orb.LineString:
		return orb.LineString(line(g))
	case orb.Ring:
		return orb.Ring(line(g))
	case orb.MultiLineString:
		out := make(orb.MultiLineString, len(g))
		for i, l := range g {
			out[i] = line(l)
		}
		return out
	case orb.Polygon:
		return polygon(g)
	case orb.MultiPolygon:
		out := make(orb.MultiPolygon, len(g))
		for i, p := range g {
			out[i] = polygon(p)
		}
		return out
	case orb.Collection:
		out := make(orb.Collection, len(g))
		for i, part := range g {
			out[i] = mapGeometry(part, at)
		}
		return out
	}
	return g
}
