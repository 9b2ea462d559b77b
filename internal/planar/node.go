package planar

import (
	"fmt"
	"math"
	"slices"

	"github.com/paulmach/orb"
	"github.com/peterstace/simplefeatures/geom"
)

// node splits lines wherever they meet, and returns arcs that have no point in
// common but their ends. Doubled pieces become one. Lines without length are
// passed over.
func node(lines []orb.LineString) (arcs []orb.LineString, err error) {
	var parts []geom.LineString
	for _, line := range lines {
		flat, ok := flatten(line)
		if !ok {
			return nil, fmt.Errorf("planar: a coordinate is not a finite number")
		}
		if len(flat) >= 4 {
			parts = append(parts, geom.NewLineString(geom.NewSequence(flat, geom.DimXY)))
		}
	}
	if len(parts) == 0 {
		return nil, nil
	}
	defer func() {
		if r := recover(); r != nil {
			arcs, err = nil, fmt.Errorf("planar: noding failed: %v", r)
		}
	}()
	union, err := geom.UnaryUnion(geom.NewMultiLineString(parts).AsGeometry())
	if err != nil {
		return nil, fmt.Errorf("planar: noding failed: %w", err)
	}
	arcs, err = unpack(union)
	return withoutExtras(arcs, lines), err
}

// withoutExtras takes out vertices that are neither in the input nor a meeting
// of lines: the noding leaves some on straight edges, where its own auxiliary
// lines crossed them. Every arc then runs from one meeting to the next.
func withoutExtras(arcs, lines []orb.LineString) []orb.LineString {
	given := map[orb.Point]bool{}
	for _, line := range lines {
		for _, p := range line {
			given[p] = true
		}
	}
	arcs, _ = chain(arcs, make([][2]int, len(arcs)))
	meeting := map[orb.Point]int{}
	for _, arc := range arcs {
		meeting[arc[0]]++
		meeting[arc[len(arc)-1]]++
	}
	for i, arc := range arcs {
		if last := len(arc) - 1; arc[0] == arc[last] && meeting[arc[0]] == 2 && !given[arc[0]] && last > 1 {
			arc = append(arc[1:last:last], arc[1]) // start a closed line elsewhere
		}
		inner := slices.DeleteFunc(arc[1:len(arc)-1:len(arc)-1], func(p orb.Point) bool { return !given[p] })
		arcs[i] = append(append(orb.LineString{arc[0]}, inner...), arc[len(arc)-1])
	}
	return arcs
}

// flatten drops repeated vertices; ok is false where a coordinate is not finite.
func flatten(line orb.LineString) (flat []float64, ok bool) {
	flat = make([]float64, 0, 2*len(line))
	for i, p := range line {
		if math.IsNaN(p[0]+p[1]) || math.IsInf(p[0], 0) || math.IsInf(p[1], 0) {
			return nil, false
		}
		if i > 0 && p == line[i-1] {
			continue
		}
		flat = append(flat, p[0], p[1])
	}
	return flat, true
}

func unpack(g geom.Geometry) ([]orb.LineString, error) {
	switch g.Type() {
	case geom.TypeLineString:
		return []orb.LineString{toOrb(g.MustAsLineString())}, nil
	case geom.TypeMultiLineString:
		m := g.MustAsMultiLineString()
		arcs := make([]orb.LineString, m.NumLineStrings())
		for i := range arcs {
			arcs[i] = toOrb(m.LineStringN(i))
		}
		return arcs, nil
	}
	return nil, fmt.Errorf("planar: noding gave a %s in place of lines", g.Type())
}

func toOrb(l geom.LineString) orb.LineString {
	seq := l.Coordinates()
	line := make(orb.LineString, seq.Length())
	for i := range line {
		xy := seq.GetXY(i)
		line[i] = orb.Point{xy.X, xy.Y}
	}
	return line
}
