package boundary

import (
	"fmt"
	"slices"
	"strings"

	"github.com/paulmach/orb"
)

// leftOut counts, by the kind of geometry, what outlines no ground.
type leftOut map[string]int

// outline collects every ring pair of a geometry that bounds ground.
func (l *leftOut) outline(g orb.Geometry) orb.MultiPolygon {
	switch g := g.(type) {
	case orb.Polygon:
		if len(g) > 0 {
			return orb.MultiPolygon{g}
		}
		l.count("empty Polygon")
	case orb.MultiPolygon:
		if len(g) > 0 {
			return g
		}
		l.count("empty MultiPolygon")
	case orb.Ring:
		return orb.MultiPolygon{{g}}
	case orb.LineString:
		if len(g) >= 4 && g[0] == g[len(g)-1] {
			return orb.MultiPolygon{{orb.Ring(g)}}
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
