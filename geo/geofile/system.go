package geofile

import (
	"fmt"
	"math"
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

// A reference is a system by its name in a file.
type reference struct {
	system system
	note   string // what is to be said of it, "" for nothing
}

// wgs84 are the ends of names that mean longitude and latitude on WGS 84. EPSG
// 4326 has latitude first on paper; files that name it have longitude first all
// the same. EPSG 4979 is the same with heights.
var wgs84 = []string{"crs84", "crs84h", "epsg::4326", "epsg:4326", "epsg/0/4326"}

// epsgCode finds a code of EPSG at the end of a name, behind a version or none; 0 for none.
func epsgCode(name string) int {
	lower := strings.ToLower(name)
	at := strings.LastIndex(lower, "epsg")
	if at < 0 {
		return 0
	}
	behind := lower[at+len("epsg"):]
	code := strings.TrimLeftFunc(behind, func(c rune) bool { return !isDigit(c) })
	if len(code) == len(behind) {
		return 0
	}
	if at := strings.IndexAny(code, ":/"); at >= 0 {
		if strings.Trim(code[:at], ".0123456789") != "" {
			return 0
		}
		code = code[at+1:]
	}
	if len(code) < 4 || len(code) > 5 || strings.TrimFunc(code, isDigit) != "" {
		return 0
	}
	number, _ := strconv.Atoi(code)
	return number
}

func isDigit(c rune) bool { return c >= '0' && c <= '9' }

// systemNamed knows WGS 84 and NAD83, their UTM zones and Web Mercator by their names
// in a crs member or a code of EPSG; any other is refused by its name.
func systemNamed(name string) (reference, error) {
	for _, known := range wgs84 {
		if strings.HasSuffix(strings.ToLower(name), known) {
			return reference{}, nil
		}
	}
	if r, known := systemOfEPSG(epsgCode(name), name); known {
		return r, nil
	}
	return reference{}, otherSystem(name)
}

// systemOfEPSG knows codes of the EPSG dataset: UTM zones on WGS 84 are 326zz north and
// 327zz south, on NAD83 269zz; those on its realization of 2011 are 6328, for zone 59N,
// to 6348, for zone 19N.
func systemOfEPSG(code int, name string) (r reference, known bool) {
	zone, north := 0, true
	switch {
	case code == 4979:
		return r, true
	case code == 3857:
		return reference{system: webMercator}, true
	case code == 4269 || code == 6318:
		return reference{note: onNAD83(name)}, true
	case code >= 32601 && code <= 32660:
		zone = code - 32600
	case code >= 32701 && code <= 32760:
		zone, north = code-32700, false
	case code >= 26901 && code <= 26923:
		zone, r.note = code-26900, onNAD83(name)
	case code >= 6328 && code <= 6348:
		zone, r.note = (code-6328+58)%60+1, onNAD83(name)
	default:
		return r, false
	}
	var err error
	r.system, err = utmSystem(zone, north)
	return r, err == nil
}

// onNAD83 says what is done with NAD83. Its origin lies about 2 m from that of WGS 84, so
// that places in North America differ by 1 to 2 m (NOAA, National Geodetic Survey;
// figures from memory); that is less than what a phone is off by, and no shift between
// the two holds for all of its realizations.
func onNAD83(name string) string {
	return fmt.Sprintf("its coordinates are on NAD83 (%s), taken as WGS 84: places may be up to 2 m off", name)
}

// webMercator takes Web Mercator, EPSG 3857, to degrees: IOGP, Guidance Note 7-2, method
// 1024, "Popular Visualisation Pseudo Mercator". Its latitudes are those of WGS 84.
func webMercator(p orb.Point) orb.Point {
	const radius = 6378137.0
	return orb.Point{p[0] / radius * 180 / math.Pi, math.Atan(math.Sinh(p[1]/radius)) * 180 / math.Pi}
}

func otherSystem(name string) error {
	return &Error{Msg: fmt.Sprintf("its coordinates are in %s", name), Hint: "save it in WGS 84 longitude and latitude; UTM zones on WGS 84 or NAD83, NAD83 degrees and Web Mercator are read too"}
}

func utmSystem(zone int, north bool) (system, error) {
	u, err := geo.NewUTM(zone, north)
	if err != nil {
		return nil, &Error{Msg: err.Error()}
	}
	return u.Inverse, nil
}

// systemOfWKT reads the .prj of a Shapefile: degrees on WGS 84 or NAD83, a transverse
// Mercator with the figures of a UTM zone on either, or Web Mercator.
func systemOfWKT(text string) (r reference, err error) {
	name := wktName(text)
	if onNorthAmerica(text) {
		r.note = onNAD83(name)
	}
	upper := strings.ToUpper(strings.ReplaceAll(text, " ", "_"))
	if r.note == "" && !strings.Contains(upper, "WGS_1984") && !strings.Contains(upper, "WGS_84") {
		return r, otherSystem(name)
	}
	if strings.HasPrefix(strings.TrimSpace(upper), "GEOGC") {
		return r, nil
	}
	metres := strings.Contains(upper, `UNIT["METER",1`) || strings.Contains(upper, `UNIT["METRE",1`)
	parameters := wktParameters(text)
	if metres && r.note == "" && isWebMercator(upper, parameters) {
		return reference{system: webMercator}, nil
	}
	zone := (parameters["central_meridian"] + 183) / 6
	northing := parameters["false_northing"]
	isUTM := strings.Contains(upper, "TRANSVERSE_MERCATOR") && metres && zone == math.Trunc(zone) &&
		parameters["scale_factor"] == 0.9996 && parameters["false_easting"] == 500000 &&
		parameters["latitude_of_origin"] == 0 && (northing == 0 || northing == 1e7)
	if !isUTM {
		return r, otherSystem(name)
	}
	r.system, err = utmSystem(int(zone), northing == 0)
	return r, err
}

// onNorthAmerica reports whether well-known text names the datum NAD83, or one of its
// realizations, under any of the names that programs give it.
func onNorthAmerica(text string) bool {
	datum := strings.TrimPrefix(strings.ReplaceAll(wktDatum(text), " ", "_"), "D_")
	for _, known := range [...]string{"NORTH_AMERICAN_1983", "NORTH_AMERICAN_DATUM_1983", "NAD_1983", "NAD83"} {
		if strings.HasPrefix(datum, known) {
			return true
		}
	}
	return false
}

// isWebMercator knows it by the name of its projection, or by its own; all of its
// parameters but the scale are 0.
func isWebMercator(upper string, parameters map[string]float64) bool {
	for name, value := range parameters {
		if name != "scale_factor" && value != 0 || name == "scale_factor" && value != 1 {
			return false
		}
	}
	return strings.Contains(upper, `PROJECTION["MERCATOR_AUXILIARY_SPHERE"]`) || strings.Contains(upper, `PROJCS["WGS_84_/_PSEUDO-MERCATOR"`)
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
