package boundary

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
)

// leftOut counts, by the kind of geometry, what outlines no ground.
type leftOut map[string]int

// outline collects every ring pair of a geometry that bounds ground.
func (l *leftOut) outline(g orb.Geometry) orb.MultiPolygon {
	switch g := g.(type) {
	case orb.Polygon:
		if len(g) > 0 && len(g[0]) > 0 {
			return orb.MultiPolygon{g}
		}
		l.count("empty Polygon")
	case orb.MultiPolygon:
		filled := slices.DeleteFunc(slices.Clone(g), func(p orb.Polygon) bool { return len(p) == 0 || len(p[0]) == 0 })
		if len(filled) > 0 {
			return filled
		}
		l.count("empty MultiPolygon")
	case orb.Ring:
		return orb.MultiPolygon{{g}}
	case orb.LineString:
		if ring := closedLine(g); ring != nil {
			return orb.MultiPolygon{{ring}}
		}
		l.count("open LineString")
	case orb.MultiLineString:
		var mp orb.MultiPolygon
		for _, line := range g {
			mp = append(mp, l.outline(line)...)
		}
		return mp
	case orb.Collection:
		var mp orb.MultiPolygon
		for _, part := range g {
			mp = append(mp, l.outline(part)...)
		}
		return mp
	case nil:
		l.count("feature without geometry")
	default:
		l.count(g.GeoJSONType())
	}
	return nil
}

// gap is how far in metres the ends of a walked outline may lie apart: a phone
// is off by as much at either end.
const gap = 15

// closedLine makes a ring of a line that comes back to where it began, or near
// it; of any other it makes nil.
func closedLine(line orb.LineString) orb.Ring {
	if len(line) < 4 {
		return nil
	}
	first, last := line[0], line[len(line)-1]
	if first == last {
		return orb.Ring(line)
	}
	frame, err := geo.NewFrame(first)
	if err != nil {
		return nil
	}
	if end := frame.Forward(last); math.Hypot(end[0], end[1]) > gap {
		return nil
	}
	return append(append(orb.Ring{}, line...), first)
}

func (l *leftOut) count(kind string) {
	if *l == nil {
		*l = leftOut{}
	}
	(*l)[kind]++
}

func (l leftOut) list() string {
	var kinds []string
	for kind, n := range l {
		kinds = append(kinds, fmt.Sprintf("%d × %s", n, kind))
	}
	slices.Sort(kinds)
	return strings.Join(kinds, ", ")
}

func (l leftOut) note() string {
	if len(l) == 0 {
		return ""
	}
	return "left out, as it bounds no ground: " + l.list()
}

func (l leftOut) err(features int) error {
	switch {
	case features == 0:
		return fmt.Errorf("no features: a field boundary is one closed outline or more")
	case l["open LineString"] > 0:
		return fmt.Errorf("no closed outline, found %s; end the line where it began", l.list())
	}
	return fmt.Errorf("no closed outline, found %s; is this the file of the stops?", l.list())
}
