package spray

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/geometry/planar"
)

// Parted is a field parted by what leaves the nozzles, in metres: what is sprayed, past the
// field's edge too, and the rest of the field. The two share their borders.
type Parted struct{ On, Rest orb.MultiPolygon }

// Points is how many points both have, see [Target.Points].
func (p Parted) Points() int { return points(p.On, p.Rest) }

// Fits reports as a [PointsError] that both have more points than most and none can go.
func (p Parted) Fits(most int) error {
	if n := p.Points(); n > most {
		return &PointsError{"the cells that are on and the rest of the field have %d points", n, n}
	}
	return nil
}

// Part parts the field by ground that is sprayed.
func (g *Target) Part(sprayed orb.MultiPolygon) (p Parted, err error) {
	// Turned back from a heading or from degrees, corners that met may cross.
	if p.On, err = planar.Ground(sprayed); err != nil {
		return p, err
	}
	rest, err := Less(g.Field, p.On)
	p.Rest = wider(rest)
	return p, err
}

// Treatable is the spray ground without ground that stays unsprayed.
func (g *Target) Treatable(unsprayed orb.MultiPolygon) (orb.MultiPolygon, error) {
	rest, err := Less(g.Spray, unsprayed)
	return wider(rest), err
}

// narrowest is how wide pieces of ground are at the least, m, that are told of: thinner
// ones come of rounding, and files would round them away.
const narrowest = 0.05

// wider leaves out pieces that are thinner.
func wider(mp orb.MultiPolygon) orb.MultiPolygon {
	return slices.DeleteFunc(slices.Clone(mp), func(p orb.Polygon) bool {
		length := 0.0
		for _, ring := range p {
			box := ring.Bound()
			length += box.Max[0] - box.Min[0] + box.Max[1] - box.Min[1]
		}
		return geo.Area(orb.MultiPolygon{p}) < narrowest*length
	})
}

// Pieces up to so many m² may go over to what lies round them where a field is drawn with
// few points, the smaller ones first, as long as what is sprayed keeps its ground up to
// mostMoved of it, and with it the carrier. Judgement, no source.
var smallPieces = [...]float64{0, 1, 4, 16, 64, 256}

const mostMoved = 0.05

// PartedFewer is a parted field with no more points than most. What is sprayed gains no
// closed ground and none beyond the field, and the field only shrinks; between what is
// sprayed and the rest of the field the border moves to either side. Fewer points than it
// takes are a [PointsError].
func (g *Target) PartedFewer(p Parted, most int) (Parted, error) {
	if p.Points() <= most {
		return p, nil
	}
	coverages, err := g.coveragesOf(p)
	if err != nil {
		return p, err
	}
	if out, ok := p.to(most, coverages); ok {
		return out, nil
	}
	low, high := most, p.Points()
	for high-low > 1 {
		middle := (low + high) / 2
		if _, ok := p.to(middle, coverages); ok {
			high = middle
		} else {
			low = middle
		}
	}
	return p, &PointsError{"what is sprayed and the rest of the field have %d points, and with so few too much of it would move", p.Points(), high}
}

// PartedFewerIn is [Target.PartedFewer] with what of the field is sprayed, which has no more
// points than most either, the field's counted with it.
func (g *Target) PartedFewerIn(p Parted, most int) (out Parted, within orb.MultiPolygon, err error) {
	for want := most; ; {
		if out, err = g.PartedFewer(p, want); err != nil {
			if few := new(PointsError); errors.As(err, &few) {
				few.Least += most - want
			}
			return out, nil, err
		}
		if within, err = Both(out.On, g.Field); err != nil {
			return out, nil, err
		}
		within = wider(within)
		over := points(within, g.Field) - most
		if over <= 0 || out.Points() >= p.Points() {
			return out, within, nil
		}
		want -= over
	}
}

// to is a parted field with no more points than most; ok is false where too much of what
// is sprayed would move.
func (p Parted) to(most int, coverages []*planar.Coverage) (out Parted, ok bool) {
	on := geo.Area(p.On)
	for _, c := range coverages {
		out, ok := reducedParts(c, p.Points()-most, most)
		if math.Abs(geo.Area(out.On)-on) > mostMoved*on {
			break
		}
		if ok {
			return out, true
		}
	}
	return p, false
}

// coveragesOf part the plane by a parted field and the closed ground, one for each of the
// sizes below which pieces go over to what lies round them.
func (g *Target) coveragesOf(p Parted) (all []*planar.Coverage, err error) {
	a, err := planar.Arrange(planar.RingLines(p.On, p.Rest, g.Closed))
	if err != nil {
		return nil, fmt.Errorf("spray: %w", err)
	}
	within := func(ground orb.MultiPolygon) []bool {
		in, index := make([]bool, len(a.Faces)), geo.NewIndex(ground)
		for i, face := range a.Faces {
			in[i] = index.Contains(face.Point)
		}
		return in
	}
	on, rest, closed := within(p.On), within(p.Rest), within(g.Closed)
	for _, small := range smallPieces {
		onSmall, restSmall := within(below(p.On, small)), within(below(p.Rest, small))
		labels := make([]int, len(a.Faces))
		for i := range labels {
			switch goes := onSmall[i] || restSmall[i] && !closed[i]; {
			case closed[i] && (on[i] || rest[i]):
				labels[i] = inField | inClosed
			case on[i] != goes:
				labels[i] = inField | inSpray
			case on[i] || rest[i]:
				labels[i] = inField
			}
		}
		all = append(all, a.Dissolve(a.Absorb(labels, roundedApart)))
	}
	return all, nil
}

// below are the polygons with less ground.
func below(mp orb.MultiPolygon, area float64) orb.MultiPolygon {
	return slices.DeleteFunc(slices.Clone(mp), func(p orb.Polygon) bool { return geo.Area(orb.MultiPolygon{p}) >= area })
}

// reducedParts drops points until there are no more than most; ok is false where that
// cannot be.
func reducedParts(c *planar.Coverage, want, most int) (p Parted, ok bool) {
	for {
		fewer, gone := c.Reduce(want, partsMayMove, pointsOfParts)
		p.On = fewer.Union(func(label int) bool { return label&inSpray != 0 })
		p.Rest = wider(fewer.Union(func(label int) bool { return label&inField != 0 && label&inSpray == 0 }))
		over := p.Points() - most
		switch {
		case over <= 0:
			return p, planar.Valid(p.On) == nil && planar.Valid(p.Rest) == nil
		case gone < want:
			return p, false
		}
		want += over
	}
}

// partsMayMove tells to which sides a border of a parted field may go.
func partsMayMove(left, right int) planar.Move {
	if pointsOfParts(left, right) == 0 {
		return planar.Move{} // of closed ground in the rest, which other borders stay off
	}
	// Whether one side may lose ground to the other.
	loses := func(side, other int) bool {
		switch {
		case other == planar.Void:
			return true
		case other&inSpray != 0:
			return side == inField
		}
		return side&inSpray != 0
	}
	return planar.Move{Left: loses(left, right), Right: loses(right, left)}
}

// pointsOfParts is how many outlines have a vertex of a border.
func pointsOfParts(left, right int) (n int) {
	rest := func(label int) bool { return label&inField != 0 && label&inSpray == 0 }
	if (left^right)&inSpray != 0 {
		n++
	}
	if rest(left) != rest(right) {
		n++
	}
	return n
}
