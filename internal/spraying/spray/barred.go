package spray

import (
	"fmt"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/simplify"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/geometry/planar"
)

// A Neighbour is ground beside a field with a name of its own: another field of the same
// map, or ground that is no field.
type Neighbour struct {
	Name   string
	Ground orb.MultiPolygon
}

// BarKind tells what barred ground is.
type BarKind string

// The kinds of ground beside spray ground that are neither it nor a keep-off which
// somebody named.
const (
	Hole       BarKind = "hole"  // of the field: water and the like
	Gap        BarKind = "gap"   // between parts of the field
	OtherField BarKind = "field" // of the same map
	Drawn      BarKind = "drawn" // outlined as no field: a pond, a yard
)

// A Bar is barred ground of one kind; of other fields and what was drawn, one of them. No section
// is on over it, and no pass leads over it.
type Bar struct {
	Kind    BarKind
	Name    string // of the other field, or of what was drawn
	Count   int    // pieces
	Area    float64
	Nearest float64 // m to the spray ground; 0 where they touch, +Inf where nothing is sprayed
	Named   bool    // holes all of which were drawn as no field too, by their names
	ground  orb.MultiPolygon
}

// bars are what bars the ground round and in a field.
func bars(z Zone) ([]Bar, error) {
	holes, err := holes(z.Field)
	if err != nil {
		return nil, err
	}
	gaps, err := gaps(z.Field)
	if err != nil {
		return nil, err
	}
	out := []Bar{{Kind: Hole, ground: holes}, {Kind: Gap, ground: gaps}}
	for _, n := range z.Neighbours {
		out = append(out, Bar{Kind: OtherField, Name: n.Name, ground: n.Ground})
	}
	for _, c := range z.Closed {
		out = append(out, Bar{Kind: Drawn, Name: c.Name, ground: c.Ground})
	}
	kept := out[:0]
	for _, b := range out {
		if b.Count, b.Area = len(b.ground), geo.Area(b.ground); b.Count > 0 {
			kept = append(kept, b)
		}
	}
	if len(kept) > 0 && kept[0].Kind == Hole && len(z.Closed) > 0 {
		kept[0].Named, err = drawnToo(holes, z.Closed)
	}
	return kept, err
}

// leastDrawn is from which share of holes on they are what was drawn: outlines are rounded.
const leastDrawn = 0.99

// drawnToo reports whether holes are ground that was drawn as no field besides.
func drawnToo(holes orb.MultiPolygon, closed []Neighbour) (bool, error) {
	for _, hole := range holes {
		left := orb.MultiPolygon{hole}
		for _, c := range closed {
			var err error
			if left, err = Less(left, c.Ground); err != nil {
				return false, err
			}
		}
		if geo.Area(left) > (1-leastDrawn)*geo.Area(orb.MultiPolygon{hole}) {
			return false, nil
		}
	}
	return true, nil
}

// holes are the holes of a field as ground of their own; parts of the field that
// lie in one are field.
func holes(field orb.MultiPolygon) (orb.MultiPolygon, error) {
	var grounds []orb.MultiPolygon
	for _, polygon := range field {
		for _, ring := range polygon[min(1, len(polygon)):] {
			grounds = append(grounds, geo.Wind(orb.MultiPolygon{{ring}}))
		}
	}
	if len(grounds) == 0 {
		return nil, nil
	}
	all, err := Together(grounds)
	if err != nil || len(field) == 1 {
		return all, err
	}
	return Less(all, field)
}

const (
	// widestGap is up to how far apart parts of a field may lie for the ground
	// between them to be a gap, m: ten of the widest swaths. Beyond it they are fields
	// apart, and what lies between is as unknown as beyond any edge. Judgement.
	widestGap = 1000
	// narrowestGap is the least mean width of a gap, m: a narrower one is a slit that
	// rounding or drawing left.
	narrowestGap = 0.5
	// thinning is how far the outline that the ball rolls round may lie off the true
	// one, m: else outlines of thousands of vertices take minutes.
	thinning = 0.2
	// looseness keeps the ball off all edges, m, so that what thinning and arithmetic
	// leave there joins nothing.
	looseness = 0.5
)

// gaps is the ground between the parts of a field: where a ball of widestGap
// across that rolls round all of it from outside cannot reach (a closing, as in
// Serra 1982, Image Analysis and Mathematical Morphology), of which every piece
// that touches two parts or more.
func gaps(field orb.MultiPolygon) (orb.MultiPolygon, error) {
	if len(field) < 2 {
		return nil, nil
	}
	const ball = widestGap / 2
	rough, err := thinned(field)
	if err != nil {
		return nil, err
	}
	grown, err := planar.Grow(rough, ball)
	if err != nil {
		return nil, fmt.Errorf("spray: the ground between the parts of the field: %w", err)
	}
	b := geo.Bound(field).Pad(3 * ball)
	all := orb.MultiPolygon{b.ToPolygon()}
	outside, err := Less(all, grown)
	if err != nil {
		return nil, err
	}
	reached, err := planar.Grow(outside, ball+looseness)
	if err != nil {
		return nil, fmt.Errorf("spray: the ground between the parts of the field: %w", err)
	}
	holes, err := holes(field)
	if err != nil {
		return nil, err
	}
	between, err := overlay([]orb.MultiPolygon{all, reached, field, holes}, func(in []bool) bool { return in[0] && !in[1] && !in[2] && !in[3] })
	if err != nil {
		return nil, err
	}
	var out orb.MultiPolygon
	for _, piece := range between {
		if touches(piece, field) >= 2 && meanWidth(piece) >= narrowestGap {
			out = append(out, straightened(piece, field))
		}
	}
	return filled(out, field)
}

// straightened takes the hollows out of a gap's mouths that the ball leaves there: only
// corners at the field stay, so that a mouth runs straight from one to the next.
func straightened(gap orb.Polygon, field orb.MultiPolygon) orb.Polygon {
	var out orb.Polygon
	for _, ring := range gap {
		var kept orb.Ring
		for _, p := range ring[:len(ring)-1] {
			if geo.DistanceToEdge(field, p) <= 4*looseness {
				kept = append(kept, p)
			}
		}
		if len(kept) < 3 {
			kept = ring[:len(ring)-1]
		}
		out = append(out, append(kept, kept[0]))
	}
	return out
}

// filled lets gaps reach the field on all sides, in spite of the looseness.
func filled(gaps, field orb.MultiPolygon) (orb.MultiPolygon, error) {
	var grounds []orb.MultiPolygon
	for _, gap := range gaps {
		ground, err := Buffer(gap, 2*looseness)
		if err != nil {
			return nil, err
		}
		grounds = append(grounds, ground)
	}
	if len(grounds) == 0 {
		return nil, nil
	}
	all, err := Together(grounds)
	if err != nil {
		return nil, err
	}
	return Less(all, field)
}

// thinned is the field without vertices near the chord of their neighbours, its holes
// filled.
func thinned(field orb.MultiPolygon) (orb.MultiPolygon, error) {
	reducer := simplify.DouglasPeucker(thinning)
	var parts []orb.MultiPolygon
	for _, part := range field {
		ring := reducer.Ring(part[0].Clone())
		if len(ring) < 4 {
			ring = part[0]
		}
		repaired, err := planar.Repair(orb.MultiPolygon{{ring}})
		if err != nil {
			return nil, fmt.Errorf("spray: %w", err)
		}
		parts = append(parts, repaired)
	}
	return Together(parts)
}

// touches counts the parts of a field that a piece of ground lies at.
func touches(piece orb.Polygon, field orb.MultiPolygon) (n int) {
	for _, part := range field {
		if Distance(piece, orb.MultiPolygon{part[:1]}) < looseness {
			n++
		}
	}
	return n
}

// meanWidth is the width of a ribbon with the polygon's area and rim.
func meanWidth(p orb.Polygon) float64 {
	rim := 0.0
	for _, ring := range p {
		for i := 1; i < len(ring); i++ {
			rim += apart(ring[i-1], ring[i])
		}
	}
	return 2 * geo.Area(orb.MultiPolygon{p}) / rim
}
