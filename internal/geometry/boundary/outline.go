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
type leftOut struct {
	past  []float64 // m that lines went on past their start
	kinds map[string]int
	gaps  []float64 // m, of open lines
	over  []float64 // m, of gaps that were closed and are worth a line
}

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
		return l.lines(orb.MultiLineString{g})
	case orb.MultiLineString:
		return l.lines(g)
	case orb.Collection:
		var mp orb.MultiPolygon
		var lines orb.MultiLineString
		for _, part := range g {
			switch part := part.(type) {
			case orb.LineString:
				lines = append(lines, part)
			case orb.MultiLineString:
				lines = append(lines, part...)
			default:
				mp = append(mp, l.outline(part)...)
			}
		}
		return append(mp, l.lines(lines)...)
	case nil:
		l.count("feature without geometry")
	default:
		l.count(g.GeoJSONType())
	}
	return nil
}

// lines are the outlines of one feature's lines: each that closes by itself, and those
// that close once parts whose ends meet are joined.
func (l *leftOut) lines(lines orb.MultiLineString) (mp orb.MultiPolygon) {
	for _, line := range joined(lines) {
		ring, apart := closedLine(line)
		if ring == nil && len(line) > 3 {
			var past float64
			if ring, past = closedBefore(line); ring != nil {
				l.past, apart = append(l.past, past), 0
			}
		}
		if ring == nil {
			l.count("open line")
			l.gaps = append(l.gaps, apart)
			continue
		}
		if apart >= leastSaid {
			l.over = append(l.over, apart)
		}
		mp = append(mp, orb.Polygon{ring})
	}
	return mp
}

// gap is how far in metres the ends of a walked outline may lie apart: a phone
// is off by as much at either end.
const gap = 15

// closedLine makes a ring of a line that comes back to where it began, or near
// it; of any other it makes nil. apart is how far its ends lie from one another, m.
func closedLine(line orb.LineString) (ring orb.Ring, apart float64) {
	if len(line) == 0 {
		return nil, 0
	}
	first, last := line[0], line[len(line)-1]
	apart = between(first, last)
	switch {
	case len(line) < 4:
		return nil, apart
	case first == last:
		return orb.Ring(line), 0
	case !(apart <= gap):
		return nil, apart
	}
	return append(append(orb.Ring{}, line...), first), apart
}

// between is the distance of two places in degrees, m; not a number where that cannot be
// told.
func between(a, b orb.Point) float64 {
	frame, err := geo.NewFrame(a)
	if err != nil {
		return math.NaN()
	}
	xy := frame.Forward(b)
	return math.Hypot(xy[0], xy[1])
}

func (l *leftOut) count(kind string) {
	if l.kinds == nil {
		l.kinds = map[string]int{}
	}
	l.kinds[kind]++
}

func (l leftOut) list() string {
	var kinds []string
	for kind, n := range l.kinds {
		kinds = append(kinds, fmt.Sprintf("%d × %s", n, kind))
	}
	slices.Sort(kinds)
	return strings.Join(kinds, ", ")
}

// closed says which gaps were closed; "" for none.
func (l leftOut) closed() string {
	if len(l.over) == 0 {
		return ""
	}
	return fmt.Sprintf("the ends of a line are %s apart: closed with a straight line, as up to %d m are", listedGaps(l.over), gap)
}

// apart says how wide the gaps of open lines are and how wide one may be; "" for none.
func (l leftOut) apart() string {
	whose := "its"
	switch len(l.gaps) {
	case 0:
		return ""
	case 1:
	default:
		whose = "their"
	}
	return fmt.Sprintf("; %s ends are %s apart, and at most %d m are closed", whose, listedGaps(l.gaps), gap)
}

// listedGaps are gaps in one line.
func listedGaps(gaps []float64) string {
	const most = 3
	var widths []string
	for i, g := range gaps {
		if i == most {
			widths = append(widths, fmt.Sprintf("%d more", len(gaps)-most))
			break
		}
		widths = append(widths, wide(g))
	}
	return strings.Join(widths, ", ")
}

// wide is a gap for people, rounded up, so that none shows less than it is.
func wide(m float64) string {
	if m < 100 {
		return fmt.Sprintf("%.1f m", math.Ceil(m*10)/10)
	}
	return fmt.Sprintf("%.0f m", math.Ceil(m))
}

func (l leftOut) note(named []Unbound) string {
	if len(l.kinds) == 0 {
		return ""
	}
	what := l.list() + namesOf(named)
	switch len(l.gaps) {
	case 0:
		return fmt.Sprintf("NOT taken off the field, as it bounds no ground: %s", what)
	case 1:
		return fmt.Sprintf("NOT taken off the field, nor one itself, as it bounds no ground: %s; its ends are %s apart, and at most %d m are closed", what, listedGaps(l.gaps), gap)
	}
	return fmt.Sprintf("NOT taken off the field, nor one itself, as it bounds no ground: %s; their ends are %s apart, and at most %d m are closed", what, listedGaps(l.gaps), gap)
}

func (l leftOut) err(features int) error {
	switch {
	case features == 0:
		return fmt.Errorf("no features: a field boundary is one closed outline or more")
	case l.kinds["open line"] > 0:
		return fmt.Errorf("no closed outline, found %s%s; end the line where it began", l.list(), l.apart())
	}
	return fmt.Errorf("no closed outline, found %s; is this the file of the stops?", l.list())
}
