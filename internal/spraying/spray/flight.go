package spray

import (
	"slices"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
)

// A Leg is a piece of the way through the air: a pass, or the turn from one to the next.
type Leg struct {
	Pass int // number of the pass; of a turn that of the pass that it leads to
	Turn bool
	Line orb.LineString // in the order in which it is flown
}

// Flight is the way of what flies over the ground, leg by leg: passes in their order, cut
// where their middle lies over a keep-off with its set-back, and between them turns that
// lead round keep-offs, a metre off or more where there is room. Where no way leads round
// the turn is left out, which blocked counts.
func (p *Plan) Flight(g *Target) (legs []Leg, blocked int, err error) {
	r, closed := newRouter(g.Named), newBanded(mapped(g.Named, along(p.Heading).into))
	for _, pass := range p.Passes {
		for _, line := range p.over(pass, closed) {
			if n := len(legs); n > 0 {
				last := legs[n-1].Line
				way, err := r.way(last[len(last)-1], line[0])
				switch {
				case err != nil:
					return nil, 0, err
				case way == nil:
					blocked++
				case len(way) > 1:
					legs = append(legs, Leg{pass.Number, true, way})
				}
			}
			legs = append(legs, Leg{pass.Number, false, line})
		}
	}
	return legs, blocked, nil
}

// over is a pass from the first on to the last off, without what lies over obstacles, which
// are turned as the passes are.
func (p *Plan) over(pass Pass, obstacles *banded) (lines []orb.LineString) {
	t := along(p.Heading)
	y := t.into(pass.From)[1]
	closed := geo.InsideSpans(obstacles.between(y, y), y)
	var on []geo.Span
	for i := 0; i+1 < len(pass.Switches); i += 2 {
		a, b := t.into(pass.Switches[i].At)[0], t.into(pass.Switches[i+1].At)[0]
		on = append(on, geo.Span{From: min(a, b), To: max(a, b)})
	}
	var pieces []geo.Span
	for _, span := range without(united(on), closed) {
		if span.To-span.From < leastRun {
			continue
		}
		if n := len(pieces); n > 0 && len(common([]geo.Span{{From: pieces[n-1].To, To: span.From}}, closed)) == 0 {
			pieces[n-1].To = span.To
			continue
		}
		pieces = append(pieces, span)
	}
	for _, span := range pieces {
		lines = append(lines, orb.LineString{t.back(orb.Point{span.From, y}), t.back(orb.Point{span.To, y})})
	}
	if t.into(pass.To)[0] < t.into(pass.From)[0] {
		slices.Reverse(lines)
		for _, line := range lines {
			line.Reverse()
		}
	}
	return lines
}
