package handoff

import (
	"fmt"
	"math"
	"strings"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/spraying/spray"
)

// farAway is how far beyond the field, besides its set-back, a keep-off may lie
// and still be named, m.
const farAway = 1000

func (k KeepOff) reach() float64 { return k.SetBack + farAway }

// site is a field against which keep-offs are held.
type site struct {
	name   string
	frame  geo.Frame
	ground orb.MultiPolygon // metres
	bound  orb.Bound        // of it
}

func newSite(name string, ground orb.MultiPolygon) (site, error) {
	frame, err := geo.FrameOf(ground)
	xy := frame.ForwardPolygons(ground)
	return site{name, frame, xy, geo.Bound(xy)}, err
}

// within takes a point, line or polygon to metres; ok is false where it lies
// farther off than reach.
func (s site) within(part orb.Geometry, reach float64) (g orb.Geometry, ok bool) {
	if s.offMap(part) {
		return nil, false
	}
	g = changed(part, s.frame.Forward)
	return g, s.bound.Pad(reach).Intersects(g.Bound())
}

// offMap reports whether some of a geometry lies where the frame means nothing.
func (s site) offMap(part orb.Geometry) bool {
	const wide = 30 // degrees, of the 35 at which a frame ends on the equator
	c := s.frame.Centre()
	off := false
	changed(part, func(p orb.Point) orb.Point {
		off = off || !(math.Abs(turn(p[0]-c[0])) <= wide && math.Abs(p[1]-c[1]) <= wide)
		return p
	})
	return off
}

// turn brings a difference of longitudes into [-180, 180].
func turn(degrees float64) float64 { return math.Remainder(degrees, 360) }

// distance in metres from the field to a part: in the plane where that is good,
// else over the sphere from the field's middle to the nearest vertex.
func (s site) distance(part orb.Geometry) float64 {
	if !s.offMap(part) {
		return spray.Distance(changed(part, s.frame.Forward), s.ground)
	}
	return s.roughly(part)
}

// roughly is the haversine of the sphere (Sinnott 1984, Sky & Telescope 68:159).
func (s site) roughly(part orb.Geometry) float64 {
	const radius = 6371008.8 // m, the mean of WGS 84
	c, nearest := s.frame.Centre(), math.Inf(1)
	changed(part, func(p orb.Point) orb.Point {
		half := func(degrees float64) float64 { return math.Pow(math.Sin(degrees*math.Pi/360), 2) }
		h := half(p[1]-c[1]) + float64(math.Cos(p[1]*math.Pi/180)*math.Cos(c[1]*math.Pi/180)*half(p[0]-c[0]))
		nearest = min(nearest, 2*radius*math.Asin(math.Sqrt(min(h, 1))))
		return p
	})
	return nearest
}

// changed is a point, line or polygon with every vertex changed, in a copy.
func changed(g orb.Geometry, to func(orb.Point) orb.Point) orb.Geometry {
	line := func(points []orb.Point) []orb.Point {
		out := make([]orb.Point, len(points))
		for i, p := range points {
			out[i] = to(p)
		}
		return out
	}
	switch g := g.(type) {
	case orb.Point:
		return to(g)
	case orb.LineString:
		return orb.LineString(line(g))
	case orb.Polygon:
		out := make(orb.Polygon, len(g))
		for i, ring := range g {
			out[i] = orb.Ring(line(ring))
		}
		return out
	}
	return g
}

// away is a feature of which parts lie in reach of no field.
type away struct {
	name  string
	parts []orb.Geometry // degrees
}

// faults are what positions suffer in practice, and what undoes it.
var faults = []struct {
	what string
	undo func(orb.Point) orb.Point
}{
	{"latitude and longitude are swapped", func(p orb.Point) orb.Point { return orb.Point{p[1], p[0]} }},
	{"the longitude has lost its sign", func(p orb.Point) orb.Point { return orb.Point{-p[0], p[1]} }},
	{"the latitude has lost its sign", func(p orb.Point) orb.Point { return orb.Point{p[0], -p[1]} }},
	{"longitude and latitude have lost their signs", func(p orb.Point) orb.Point { return orb.Point{-p[0], -p[1]} }},
}

// fault is the first fault without which a feature would lie in reach of a field;
// "" where none explains it.
func (a away) fault(fields []site, reach float64) string {
	for _, f := range faults {
		for _, part := range a.parts {
			for _, s := range fields {
				if _, ok := s.within(changed(part, f.undo), reach); ok {
					return f.what
				}
			}
		}
	}
	return ""
}

// nearest is the feature that lies nearest to a field, by the sphere, and how far
// off it is.
func nearest(far []away, fields []site) (name string, distance float64) {
	least := math.Inf(1)
	for _, a := range far {
		for _, part := range a.parts {
			for _, s := range fields {
				if d := s.roughly(part); name == "" || d < least {
					name, least, distance = a.name, d, s.distance(part)
				}
			}
		}
	}
	return name, distance
}

// allFar refuses a file of which nothing lies in reach.
func (k KeepOff) allFar(far []away, fields []site) error {
	name, distance := nearest(far, fields)
	fix := "give the file that belongs to the field, or leave it out"
	for _, a := range far {
		if fault := a.fault(fields, k.reach()); fault != "" {
			fix = fmt.Sprintf("%s would lie by a field but that %s, so it seems: correct the file", a.name, fault)
			break
		}
	}
	return k.refused("nothing in it lies within %s of a field, so it would keep nothing off; the nearest, %s, is %s away: %s", figures.Both.Way(k.reach()), name, figures.Both.Way(distance), fix)
}

// mostNamed bounds the names in a note.
const mostNamed = 5

func listed(names []string) string {
	list := strings.Join(names[:min(len(names), mostNamed)], ", ")
	if more := len(names) - mostNamed; more > 0 {
		list += fmt.Sprintf(" and %d more", more)
	}
	return list
}

// someFar tells of features out of reach where others are in it.
func (k KeepOff) someFar(far []away, fields []site) string {
	var names []string
	for _, a := range far {
		names = append(names, a.name)
	}
	name, distance := nearest(far, fields)
	at := []any{k.File, len(far), len(k.Features), figures.Both.Way(k.reach()), listed(names), name, figures.Both.Way(distance)}
	for _, a := range far {
		if fault := a.fault(fields, k.reach()); fault != "" {
			return fmt.Sprintf("%s: %d of %d features, or parts of them, lie more than %s from every field and keep nothing off: %s; the nearest, %s, is %s away; BEWARE: %s would lie by a field but that %s, so it seems: correct the file", append(at, a.name, fault)...)
		}
	}
	return fmt.Sprintf("%s: %d of %d features, or parts of them, lie more than %s from every field and keep nothing off: %s; the nearest, %s, is %s away", at...)
}
