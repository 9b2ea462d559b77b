package handoff

import (
	"fmt"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/spray"
)

// farAway is how far beyond the field, besides its set-back, a keep-off may lie
// and still be told of, m.
const farAway = 1000

// near takes keep-offs to a field's frame, and leaves out those too far away to
// matter.
func near(files []KeepOff, frame geo.Frame, field orb.Bound) (out []spray.KeepOff) {
	for _, file := range files {
		for i, f := range file.Features {
			g := forward(f.Geometry, frame)
			if g == nil {
				continue
			}
			reach := field.Pad(file.SetBack + farAway)
			if !reach.Intersects(g.Bound()) {
				continue
			}
			out = append(out, spray.KeepOff{Name: keepOffName(file, f, i), Geometry: g, SetBack: file.SetBack})
		}
	}
	return out
}

func keepOffName(file KeepOff, f geo.Feature, i int) string {
	if name := word(f.Properties, "name"); name != "" {
		return name
	}
	if len(file.Features) == 1 {
		return file.Name
	}
	return fmt.Sprintf("%s %d", file.Name, i+1)
}

// forward takes a geometry to metres; nil where there is none.
func forward(g orb.Geometry, frame geo.Frame) orb.Geometry {
	line := func(l orb.LineString) orb.LineString {
		out := make(orb.LineString, len(l))
		for i, p := range l {
			out[i] = frame.Forward(p)
		}
		return out
	}
	switch g := g.(type) {
	case orb.Point:
		return frame.Forward(g)
	case orb.MultiPoint:
		return orb.MultiPoint(line(orb.LineString(g)))
	case orb.LineString:
		return line(g)
	case orb.MultiLineString:
		out := make(orb.MultiLineString, len(g))
		for i := range g {
			out[i] = line(g[i])
		}
		return out
	case orb.Polygon:
		return frame.ForwardPolygons(orb.MultiPolygon{g})[0]
	case orb.MultiPolygon:
		return frame.ForwardPolygons(g)
	case orb.Collection:
		var out orb.Collection
		for _, part := range g {
			if p := forward(part, frame); p != nil {
				out = append(out, p)
			}
		}
		if len(out) == 0 {
			return nil
		}
		return out
	}
	return nil
}
