package spray

import (
	"fmt"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/geometry/planar"
)

// Points is how many points the outlines of a target have, as files count them: those of
// the field, the spray ground and the closed ground together, each ring with its first
// one twice.
func (g *Target) Points() int { return points(g.Field, g.Spray, g.Kept) }

func points(grounds ...orb.MultiPolygon) (n int) {
	for _, ground := range grounds {
		for _, polygon := range ground {
			for _, ring := range polygon {
				n += len(ring)
			}
		}
	}
	return n
}

// What a face of the outlines is of, as bits of its label.
const (
	inField = 1 << iota
	inSpray
	inClosed
	inBarred
	inOthers
	inNamed
)

// A PointsError is outlines that cannot be drawn with as few points as were asked for.
type PointsError struct {
	why   string
	Have  int // points
	Least int // with fewer it cannot be; with so many it need not
}

func (e *PointsError) Error() string { return fmt.Sprintf(e.why, e.Have) }

// Reduced is a target with no more points than most, as [Target.Points] counts them.
// Borders stay shared, and move to the safe side alone: closed ground only grows, the
// field only shrinks, and spray ground gains none of what is closed or beyond the field.
// Fewer points than it takes to keep that are a [PointsError].
func (g *Target) Reduced(most int) (*Target, error) {
	if g.Points() <= most {
		return g, nil
	}
	all := []orb.MultiPolygon{g.Field, g.Spray, g.Closed, g.Barred, g.others, g.Named}
	c, err := coverageOf(all)
	if err != nil {
		return nil, err
	}
	out := *g
	for want := g.Points() - most; ; {
		fewer, gone := c.Reduce(want, mayMove, pointsAt)
		out.take(fewer)
		over := out.Points() - most
		switch {
		case over <= 0 && sound(&out):
			out.measure()
			return &out, nil
		case over > 0 && gone < want:
			return nil, &PointsError{"the outlines have %d points, and with so few closed ground would be sprayed", g.Points(), out.Points()}
		case over <= 0:
			return nil, &PointsError{"the outlines have %d points, and are too intricate for so few", g.Points(), most + 1}
		}
		want += over
	}
}

// roundedApart is how far lines that were one may lie apart, m: each overlay rounds them
// anew, by less than a nanometre.
const roundedApart = 1e-6

// Points is how many points the outlines of field and treat ground have, see
// [Target.Points].
func (z Zone) Points() int { return points(z.Field, z.Treat) }

// Reduced is a zone whose field and treat ground have no more points than most, or as few
// as there can be: the field only shrinks, and treat ground stays in it. Growing ground by
// a margin takes long where its outline has tens of thousands of points.
func (z Zone) Reduced(most int) (Zone, error) {
	if z.Points() <= most {
		return z, nil
	}
	c, err := coverageOf([]orb.MultiPolygon{z.Field, z.Treat})
	if err != nil {
		return z, err
	}
	fewer, _ := c.Reduce(z.Points()-most, mayMove, pointsAt)
	out := z
	out.Field = fewer.Union(func(label int) bool { return label&inField != 0 })
	out.Treat = fewer.Union(func(label int) bool { return label&inSpray != 0 })
	// Too intricate, or where the two meet there are more corners than they had alone: as
	// it was, which is slower, and right.
	if out.Points() >= z.Points() || planar.Valid(out.Field) != nil || planar.Valid(out.Treat) != nil {
		return z, nil
	}
	return out, nil
}

// coverageOf parts the plane by all that a target consists of.
func coverageOf(all []orb.MultiPolygon) (*planar.Coverage, error) {
	a, err := planar.Arrange(planar.RingLines(all...))
	if err != nil {
		return nil, fmt.Errorf("spray: %w", err)
	}
	labels, index := make([]int, len(a.Faces)), make([]*geo.Index, len(all))
	for k, ground := range all {
		index[k] = geo.NewIndex(ground)
	}
	for i, face := range a.Faces {
		for k := range all {
			if index[k].Contains(face.Point) {
				labels[i] |= 1 << k
			}
		}
	}
	return a.Dissolve(a.Absorb(labels, roundedApart)), nil
}

// mayMove tells to which sides a border may go. Where one ground has to grow to where
// another must not, it stays.
func mayMove(left, right int) planar.Move {
	m := planar.Move{Left: true, Right: true}
	for _, bit := range []int{inField, inSpray, inClosed, inBarred, inNamed} {
		l, r := left&bit != 0, right&bit != 0
		if l == r || bit == inSpray && (left|right)&inClosed == 0 && left&right&inField != 0 {
			continue // spray ground may change with the rest of the field
		}
		grows := bit != inField && bit != inSpray
		if l == grows {
			m.Left = false
		} else {
			m.Right = false
		}
	}
	return m
}

// pointsAt is how many outlines that are written have a vertex of a border.
func pointsAt(left, right int) (n int) {
	kept := func(label int) bool { return label&inClosed != 0 && label&inOthers == 0 }
	for _, differs := range []bool{(left^right)&inField != 0, (left^right)&inSpray != 0, kept(left) != kept(right)} {
		if differs {
			n++
		}
	}
	return n
}

// take fills in the grounds of a coverage.
func (g *Target) take(c *planar.Coverage) {
	of := func(bit int) orb.MultiPolygon { return c.Union(func(label int) bool { return label&bit != 0 }) }
	g.Field, g.Spray, g.Closed, g.Barred, g.others, g.Named = of(inField), of(inSpray), of(inClosed), of(inBarred), of(inOthers), of(inNamed)
	g.Kept = c.Union(func(label int) bool { return label&inClosed != 0 && label&inOthers == 0 })
}

func sound(g *Target) bool {
	for _, ground := range []orb.MultiPolygon{g.Field, g.Spray, g.Closed, g.Barred, g.Kept, g.Named} {
		if len(ground) > 0 && planar.Valid(ground) != nil {
			return false
		}
	}
	return true
}
